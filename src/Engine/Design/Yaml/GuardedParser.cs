using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Consort.Engine.Design;

/// <summary>The YAML library's parser, with every failure as a <see cref="YamlException"/> that has a place. On damaged
/// text YamlDotNet 18.1.0 also throws InvalidOperationException and the like from inside its scanner.</summary>
internal sealed class GuardedParser(IParser inner) : IParser
{
    /// <inheritdoc/>
    public ParsingEvent? Current => inner.Current;

    /// <inheritdoc/>
    public bool MoveNext()
    {
        Mark after = inner.Current?.End ?? Mark.Empty;
        try
        {
            return inner.MoveNext();
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException or IndexOutOfRangeException or NotSupportedException or OverflowException)
        {
            throw new YamlException(after, after, "the text after this place cannot be read", e);
        }
    }
}
