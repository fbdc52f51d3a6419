namespace Consort.Engine.Design;

/// <summary>Finds rings among owners that only pass voltages on: buffered multiples and modules that are no oscillators.
/// (Oscillators in a ring modulate each other, which is playing.)</summary>
internal static class LoopCheck
{
    /// <summary>A voltage that goes from an output to an input.</summary>
    public readonly record struct Flow(JackName From, JackName To, SourceSpan At);

    /// <summary>Reports each ring once.</summary>
    public static void Run(IEnumerable<Flow> flows, ReadVoice read, ErrorList errors)
    {
        HashSet<string> passing =
        [
            .. read.Voice.Members.Where(member => member.Module.Pitch is null).Select(member => member.Name),
            .. read.Voice.Multiples.Where(multiple => multiple.Buffered).Select(multiple => multiple.Name),
        ];
        ILookup<string, Flow> onward = flows
            .Where(flow => passing.Contains(flow.From.Owner) && passing.Contains(flow.To.Owner))
            .ToLookup(flow => flow.From.Owner);
        HashSet<string> done = [];
        foreach (string start in passing.Order(StringComparer.Ordinal))
            Follow(start, onward, [], done, errors);
    }

    private static void Follow(string owner, ILookup<string, Flow> onward, List<Flow> path, HashSet<string> done, ErrorList errors)
    {
        int back = path.FindIndex(flow => flow.From.Owner == owner);
        if (back >= 0)
        {
            string ring = string.Join(", ", path.Skip(back).Select(flow => $"{flow.From} to {flow.To}"));
            errors.Add(ErrorCodes.FeedbackLoop, path[^1].At, $"{owner} feeds back to itself: {ring}", "take one of these cords away");
            return;
        }
        if (!done.Add(owner))
            return;
        foreach (Flow flow in onward[owner])
        {
            path.Add(flow);
            Follow(flow.To.Owner, onward, path, done, errors);
            path.RemoveAt(path.Count - 1);
        }
    }
}
