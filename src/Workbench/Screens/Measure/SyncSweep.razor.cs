using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Recordings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Design;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;

namespace Consort.Workbench.Screens.Measure;

/// <summary>From two recordings of a sweep to how far a follower holds to its lead.</summary>
public sealed partial class SyncSweep
{
    private const long Largest = 60_000_000; // bytes: two minutes of two channels at 96 kHz and 24 bits are 69 MB

    private IBrowserFile? synced;
    private IBrowserFile? free;

    /// <summary>The unit; null while its name is not one.</summary>
    [Parameter]
    public UnitPlace? Place { get; set; }

    /// <summary>The recorder's.</summary>
    [Parameter]
    public RecorderClock Clock { get; set; } = RecorderClock.Unknown;

    /// <summary>Called with a sweep that is to be kept.</summary>
    [Parameter]
    public EventCallback<SyncReading> Record { get; set; }

    private int LeadChannel { get; set; } = 2;

    private bool IsReading { get; set; }

    private string? Fault { get; set; }

    private SyncReading? Sweep { get; set; }

    private static string Within(SyncEdge edge) => edge.IsReached ? $"{2 * edge.Uncertainty:0.00}" : "still held";

    private async Task Read()
    {
        if (synced is not { } two || free is not { } one)
            return;
        (IsReading, Fault, Sweep) = (true, null, null);
        StateHasChanged();
        try
        {
            (MemoryStream together, MemoryStream alone) = (await Whole(two), await Whole(one));
            (Sweep, Fault) = await Task.Run(() => Read(together, two.Name, alone, one.Name));
        }
        catch (IOException e) // too large, or let go of by the browser
        {
            Fault = e.Message;
        }
        IsReading = false;
    }

    private static async Task<MemoryStream> Whole(IBrowserFile file)
    {
        if (file.Size > Largest)
            throw new IOException($"{file.Name} is larger than {Largest / 1_000_000} MB: cut it, or give it to measure on the command line.");
        MemoryStream whole = new((int)file.Size);
        await using Stream stream = file.OpenReadStream(Largest);
        await stream.CopyToAsync(whole);
        return whole;
    }

    private (SyncReading? Reading, string? Fault) Read(MemoryStream together, string togetherName, MemoryStream alone, string aloneName)
    {
        ErrorList errors = new();
        Recording? follower = One(together, togetherName, 3 - LeadChannel), lead = One(together, togetherName, LeadChannel), unsynced = One(alone, aloneName, 1);
        if (follower is null || lead is null || unsynced is null)
            return (null, string.Join(" ", errors.InOrder().Select(error => $"{error.What}; {error.Mend}.").Distinct()));
        (SyncReading? reading, string? why) = new SweepReader(Clock).Read(follower, lead, unsynced);
        return (reading, why is null ? null : $"{togetherName}: {why}.");

        Recording? One(MemoryStream stream, string name, int channel)
        {
            stream.Position = 0;
            return Recording.Read(new MemoryStream(stream.GetBuffer(), 0, (int)stream.Length), name, channel, errors);
        }
    }
}
