using Consort.Workbench.Files;
using Consort.Workbench.Frame;
using Consort.Workbench.Session;
using Consort.Workbench.Tests.Session;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace Consort.Workbench.Tests.Frame;

public sealed class ScreenTests
{
    // A change comes on another thread, also in the middle of a drawing.
    [Fact]
    public async Task One_drawing_shows_one_moment_and_the_next_the_newest()
    {
        using OpenCopy open = new();
        await using ServiceProvider services = new ServiceCollection()
            .AddSingleton(_ => open.Again())
            .AddSingleton<FileShelf>()
            .AddSingleton<List<(long Before, long After)>>()
            .AddSingleton<NavigationManager>(new Standing())
            .AddScoped<Selection>()
            .BuildServiceProvider();
        await using HtmlRenderer renderer = new(services, NullLoggerFactory.Instance);
        await renderer.Dispatcher.InvokeAsync(() => renderer.RenderComponentAsync<TwoLooks>());
        await renderer.Dispatcher.InvokeAsync(() => { }); // after the drawing that the change asked for
        Assert.Equal([(0, 0), (1, 1)], services.GetRequiredService<List<(long, long)>>());
    }

    private sealed class TwoLooks : Consort.Workbench.Frame.Screen
    {
        [Inject]
        private List<(long Before, long After)> Seen { get; set; } = null!;

        protected override void BuildRenderTree(RenderTreeBuilder builder)
        {
            long before = State.Revision;
            if (before == 0)
            {
                Thread other = new(() => Session.Set(new("voice.yaml", "limits", "drift"), "19 cents"));
                other.Start();
                other.Join();
            }
            Seen.Add((before, State.Revision));
        }
    }

    private sealed class Standing : NavigationManager
    {
        public Standing() => Initialize("http://127.0.0.1/", "http://127.0.0.1/voice");
    }
}
