using Consort.Engine.Design;
using Consort.Engine.Planning;
using Consort.Workbench.Session;
using Microsoft.Extensions.DependencyInjection;

namespace Consort.Workbench.Screens.Wiring;

/// <summary>The plan of all ways to wire the voice, one for all tabs: it takes a while.</summary>
/// <param name="session">Whose design it is of.</param>
public sealed class WiringWork(VoiceSession session) : IDisposable
{
    private const int Builds = 2000;

    /// <summary>As <c>plan</c> makes it; asked with true, with yields and lock ranges.</summary>
    public LongWork<bool, WiringPlan> Work { get; } =
        new(session, (design, isWhole, progress, cancel) =>
            new Planner(design.Voice, VoiceFolder.Modules(design.Texts), design.Stock, VoiceFolder.Library(design.Texts), Environment.ProcessorCount)
            {
                Spread = isWhole ? new(design.Stock, Builds) : null,
                Locks = isWhole,
            }.Run(progress, cancel));

    internal static void Add(IServiceCollection services) => services.AddSingleton<WiringWork>();

    /// <inheritdoc/>
    public void Dispose() => Work.Dispose();
}
