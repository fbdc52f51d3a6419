using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Response;
using Consort.Workbench.Session;
using Microsoft.Extensions.DependencyInjection;

namespace Consort.Workbench.Screens.Response;

using Voice = Engine.Design.Voice; // and not the screen's folder

/// <summary>Which sheets are read, and how, as it stands in the fields.</summary>
/// <param name="Oscillator">One; null: the first of each kind of module.</param>
/// <param name="Sheet">One; null: all.</param>
/// <param name="Play">A voltage or a key; empty: the middle.</param>
/// <param name="Set">Controls moved beforehand.</param>
/// <param name="Kelvin">Temperature of all parts.</param>
public sealed record ResponseAsk(string? Oscillator, string? Sheet, string Play, string Set, double Kelvin)
{
    /// <summary>As <c>respond</c> understands it.</summary>
    public (ResponsePlan? Plan, ImmutableArray<WordFault> Faults) Understand(Voice voice) =>
        new ResponseWish(
            Oscillator is null ? [] : [Oscillator],
            Sheet is null ? [] : [Sheet],
            WordList.Of(Set),
            Play.Trim().Length > 0 ? Play.Trim() : null
        ).Understand(voice);
}

/// <summary>The sheets that were read, one for all tabs: it takes a while.</summary>
/// <param name="session">Whose design they are of.</param>
public sealed class ResponseWork(VoiceSession session) : IDisposable
{
    /// <summary>As <c>respond</c> reads them.</summary>
    public LongWork<ResponseAsk, ResponseBook> Work { get; } =
        new(session, (design, asked, progress, cancel) =>
        {
            (ResponsePlan? plan, ImmutableArray<WordFault> faults) = asked.Understand(design.Voice);
            if (plan is null)
                return (null, new(faults[0].What, faults[0].Mend));
            (ResponseBook? book, SolveFailure? failure) = ResponseStudy.Run(plan, trims: true, asked.Kelvin, Environment.ProcessorCount, progress, cancel);
            return book is null ? (null, new(failure!.ToString(), "look at the voltages there with the oscilloscope, or play another note")) : (book, null);
        });

    internal static void Add(IServiceCollection services) => services.AddSingleton<ResponseWork>();

    /// <inheritdoc/>
    public void Dispose() => Work.Dispose();
}
