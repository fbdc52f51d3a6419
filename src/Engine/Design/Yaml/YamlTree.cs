using System.Collections.Immutable;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Consort.Engine.Design;

/// <summary>Reads a text as plain YAML into nodes with places. Whatever the text holds, the answer is a tree or errors.</summary>
public sealed class YamlTree
{
    private const int Deepest = 32;

    private readonly SourceText source;
    private readonly ErrorList errors;
    private readonly IParser parser;

    private YamlTree(SourceText source, ErrorList errors)
    {
        this.source = source;
        this.errors = errors;
        parser = new GuardedParser(new Parser(new StringReader(source.Text)));
    }

    /// <summary>The file's root; null, with the reason in the list, when there is none or it cannot be read.</summary>
    public static YamlNode? Read(SourceText source, ErrorList errors)
    {
        errors.Knows(source);
        if (!IsPlainText(source, errors))
            return null;
        try
        {
            return new YamlTree(source, errors).Document();
        }
        catch (YamlException e)
        {
            (string what, string mend) = SyntaxWords.For(e.Message, source, (int)e.Start.Line);
            errors.Add(ErrorCodes.Syntax, source.Span((int)e.Start.Index, (int)e.End.Index), what, mend);
            return null;
        }
        catch (TooDeepException e)
        {
            errors.Add(ErrorCodes.TooDeep, e.At, $"nested more than {Deepest} deep", "write it flatter");
            return null;
        }
    }

    /// <summary>The file's root as a map; null, with an error, when it is something else.</summary>
    public static YamlMap? ReadMap(SourceText source, ErrorList errors)
    {
        YamlNode? root = Read(source, errors);
        if (root is not null and not YamlMap)
            errors.Add(ErrorCodes.WrongShape, root.At, $"the file is {root.Shape}, not a map", "write 'name: value' entries");
        return root as YamlMap;
    }

    private YamlNode? Document()
    {
        parser.Consume<StreamStart>();
        YamlNode? root = null;
        if (parser.Accept<DocumentStart>(out _))
        {
            parser.Consume<DocumentStart>();
            root = Node(0);
            parser.Consume<DocumentEnd>();
        }
        if (root is null or YamlText { IsNothing: true })
        {
            errors.Add(ErrorCodes.EmptyFile, source.Span(0, 1), "the file is empty", "see docs/design-folder.md for what stands in it");
            return null;
        }
        if (parser.Accept<DocumentStart>(out DocumentStart? second))
            errors.Add(ErrorCodes.NotPlain, Span(second), "a second document begins here", "one document a file: delete the '---'");
        return root;
    }

    private YamlNode Node(int depth)
    {
        ParsingEvent next = parser.Current ?? throw new YamlException("the text ends too early");
        if (depth > Deepest)
            throw new TooDeepException(Span(next));
        if (next is NodeEvent node)
            RefuseMarks(node);
        parser.MoveNext();
        return next switch
        {
            Scalar scalar => Text(scalar),
            SequenceStart start => List(start, depth),
            MappingStart start => Map(start, depth),
            AnchorAlias alias => Alias(alias),
            _ => throw new YamlException(next.Start, next.End, "something else than a value"),
        };
    }

    private YamlText Text(Scalar scalar) =>
        new(scalar.Value, scalar.Style != ScalarStyle.Plain, Span(scalar), (int)scalar.Start.Index, (int)scalar.End.Index);

    private YamlList List(SequenceStart start, int depth)
    {
        ImmutableArray<YamlNode>.Builder items = ImmutableArray.CreateBuilder<YamlNode>();
        while (!parser.Accept<SequenceEnd>(out _))
            items.Add(Node(depth + 1));
        SequenceEnd end = parser.Consume<SequenceEnd>();
        bool flow = start.Style == SequenceStyle.Flow;
        int last = End(end, flow);
        return new(items.ToImmutable(), flow, source.Span((int)start.Start.Index, last), (int)start.Start.Index, last);
    }

    private YamlMap Map(MappingStart start, int depth)
    {
        ImmutableArray<YamlEntry>.Builder entries = ImmutableArray.CreateBuilder<YamlEntry>();
        Dictionary<string, YamlText> seen = [];
        while (!parser.Accept<MappingEnd>(out _))
        {
            YamlNode name = Node(depth + 1);
            YamlNode value = Node(depth + 1);
            if (name is not YamlText { Value.Length: > 0 } key)
                errors.Add(ErrorCodes.EmptyKey, name.At, $"{name.Shape} cannot be a name", "write 'name: value'");
            else if (!seen.TryAdd(key.Value, key))
                errors.Add(ErrorCodes.RepeatedKey, key.At,
                    $"{ErrorList.Quote(key.Value)} stands twice; first in line {seen[key.Value].At.Line}", "rename or delete one of them");
            else
                entries.Add(new(key.Value, key, value));
        }
        MappingEnd end = parser.Consume<MappingEnd>();
        bool flow = start.Style == MappingStyle.Flow;
        int last = End(end, flow);
        return new(entries.ToImmutable(), flow, source.Span((int)start.Start.Index, last), (int)start.Start.Index, last);
    }

    // The parser's mark stands before the closing bracket.
    private int End(ParsingEvent end, bool flow)
    {
        int at = (int)end.Start.Index;
        return flow && at < source.Text.Length && source.Text[at] is ']' or '}' ? at + 1 : (int)end.End.Index;
    }

    private YamlText Alias(AnchorAlias alias)
    {
        errors.Add(ErrorCodes.NotPlain, Span(alias), $"'*{alias.Value.Value}' is an alias", "write the value out");
        return new("", true, Span(alias), (int)alias.Start.Index, (int)alias.End.Index);
    }

    private void RefuseMarks(NodeEvent node)
    {
        if (!node.Anchor.IsEmpty)
            errors.Add(ErrorCodes.NotPlain, Span(node), $"'&{node.Anchor.Value}' is an anchor", "delete it and write the value out");
        if (!node.Tag.IsEmpty)
            errors.Add(ErrorCodes.NotPlain, Span(node), "a tag (!) stands here",
                "delete it; a text that begins with ! goes in quotes");
    }

    private SourceSpan Span(ParsingEvent e) => source.Span((int)e.Start.Index, (int)e.End.Index);

    // YAML counts U+0085, U+2028 and U+2029 as line ends and editors do not: refused, so that line numbers agree.
    private static bool IsPlainText(SourceText source, ErrorList errors)
    {
        if (source.Text.Length > SourceText.LargestFile)
        {
            errors.Add(ErrorCodes.TooLarge, source.Span(0, 1), "the text is too large", "a design file is some kB");
            return false;
        }
        int at = source.Text.AsSpan().IndexOfAny(Forbidden);
        if (at >= 0)
            errors.Add(ErrorCodes.NotText, source.Span(at, at + 1),
                $"character U+{(int)source.Text[at]:X4} has no place in a text", "delete it; save the file as plain UTF-8 text");
        return at < 0;
    }

    private static readonly System.Buffers.SearchValues<char> Forbidden = System.Buffers.SearchValues.Create(
        [
            .. Enumerable.Range(0, 0xA0).Select(c => (char)c).Where(c => char.IsControl(c) && c is not ('\t' or '\n' or '\r')),
            '\u2028', '\u2029', '\uFEFF', '\uFFFE', '\uFFFF',
        ]);

    private sealed class TooDeepException(SourceSpan at) : Exception
    {
        public SourceSpan At => at;
    }
}
