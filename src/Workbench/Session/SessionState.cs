using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Engine.Pitch.Live;

namespace Consort.Workbench.Session;

/// <summary>A design that was read without a mistake.</summary>
/// <param name="Revision">The state of the texts that it was read from.</param>
public sealed record ReadDesign(long Revision, DesignTexts Texts, Voice Voice, Stock Stock);

/// <summary>All that a tab shows of the session, at one moment. It never changes; another takes its place.</summary>
/// <param name="Revision">Counts changes of the texts.</param>
/// <param name="Texts">As they are being edited.</param>
/// <param name="Saved">As they lie on disk, as far as is known.</param>
/// <param name="Errors">What is wrong with the texts, and notes.</param>
/// <param name="Design">The last that was read without a mistake; null before there was one.</param>
public sealed record SessionState(long Revision, DesignTexts Texts, DesignTexts Saved, ImmutableArray<InputError> Errors, ReadDesign? Design)
{
    /// <summary>The last answer; null before the first. An estimate has figures and curves, and no proof.</summary>
    public LiveAnswer? Answer { get; init; }

    /// <summary>The revision that the answer is of.</summary>
    public long AnswerRevision { get; init; }

    /// <summary>The last whole proof, or before there was one, the proof of the design without builds.</summary>
    public Proof? Proof { get; init; }

    /// <summary>The revision that the proof is of.</summary>
    public long ProofRevision { get; init; }

    /// <summary>What builds do: the newest that is known.</summary>
    public SpreadResult? Spread => Answer?.Spread ?? Proof?.Spread;

    /// <summary>True when what builds do is of older texts.</summary>
    public bool IsSpreadOld => Spread is not null && (Answer?.Spread is null ? ProofRevision : AnswerRevision) != Revision;

    /// <summary>Why the newest design could not be computed.</summary>
    public Unproved? Failure { get; init; }

    /// <summary>What is being computed, and its share that is done; null at rest.</summary>
    public (string Stage, double Done)? Working { get; init; }

    /// <summary>Changes that can be taken back.</summary>
    public int Undoable { get; init; }

    /// <summary>Changes that were taken back.</summary>
    public int Redoable { get; init; }

    /// <summary>Files that changed here and on disk, in ways that do not fit together.</summary>
    public ImmutableArray<DiskConflict> Conflicts { get; init; } = [];

    /// <summary>What happened last that a person should know: merged, saved, refused.</summary>
    public string? News { get; init; }

    /// <summary>True when the texts hold a mistake: what is shown is of older texts.</summary>
    public bool HasMistakes => Errors.Any(error => !error.IsNote);

    /// <summary>True when the proof is not of the texts as they stand.</summary>
    public bool IsProofOld => Proof is not null && ProofRevision != Revision;

    /// <summary>True when the answer is not of the texts as they stand.</summary>
    public bool IsOld => Answer is not null && AnswerRevision != Revision;

    /// <summary>Names of files with changes that are not saved.</summary>
    public IEnumerable<string> Unsaved => Texts.Files.Where(file => Saved.Find(file.Key)?.Text != file.Value?.Text).Select(file => file.Key);
}

/// <summary>A file that was changed here and, otherwise, on disk.</summary>
/// <param name="File">Its name in the folder.</param>
/// <param name="OnDisk">Its text there.</param>
public sealed record DiskConflict(string File, SourceText OnDisk);
