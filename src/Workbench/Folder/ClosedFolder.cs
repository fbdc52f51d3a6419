namespace Consort.Workbench.Folder;

/// <summary>A folder that no name leads out of: the voice's own, or the program's data.</summary>
public sealed class ClosedFolder
{
    /// <summary>Closes a folder.</summary>
    /// <param name="path">The folder, which need not be there yet; when it is a link itself, the place that it stands for.</param>
    public ClosedFolder(string path)
    {
        string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(path));
        Root = (Directory.Exists(full) ? Directory.ResolveLinkTarget(full, returnFinalTarget: true)?.FullName : null) ?? full;
    }

    /// <summary>Where it lies.</summary>
    public string Root { get; }

    /// <summary>The place of a name in the folder, or why there is none. Links are refused wherever they lead: one that
    /// leads inside today may lead elsewhere tomorrow.</summary>
    /// <param name="name">With slashes, as <c>modules/lead.yaml</c>. The file need not exist.</param>
    public (string? Place, string? Refusal) Find(string name)
    {
        if (name.Length == 0 || name.AsSpan().ContainsAny('\\', '\0', ':') || Path.IsPathRooted(name))
            return (null, "this names no file of the folder");
        string place = Root;
        foreach (string step in name.Split('/'))
        {
            if (step.Length == 0 || step.All(c => c is '.' or ' '))
                return (null, "this names no file of the folder");
            place = Path.Combine(place, step);
            if (IsLink(place))
                return (null, $"'{step}' is a symbolic link: the workbench opens what lies in the folder itself");
        }
        return (place, null);
    }

    private static bool IsLink(string place)
    {
        FileInfo entry = new(place); // tells of directories too; a link to nowhere counts
        return entry.LinkTarget is not null || (entry.Exists && entry.Attributes.HasFlag(FileAttributes.ReparsePoint));
    }
}
