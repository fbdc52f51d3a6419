using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class YamlEditTests
{
    private const string Text = "# a voice\r\nlead:   {at: 50%,  set: {P1: 0.5}} # knob\r\nblock:\r\n  x: 1   # one\r\n  y:\r\n    - a\r\n    - b # last\r\n\r\n# about z\r\nz: 'q'\r\nempty: {}\r\nnone:\r\n";

    private static string Edit(string text, Action<YamlEdit, YamlMap> change)
    {
        SourceText source = SourceText.Of(text, "f");
        ErrorList errors = new();
        YamlMap root = YamlTree.ReadMap(source, errors)!;
        YamlEdit edit = new(source);
        change(edit, root);
        string result = edit.Result();
        Assert.NotNull(YamlTree.ReadMap(SourceText.Of(result, "f"), errors));
        Assert.Equal(0, errors.Count);
        return result;
    }

    private static YamlMap Inner(YamlMap map, string key) => (YamlMap)map.Find(key)!.Value;

    [Theory]
    [InlineData("lead", "at", "62%", "{at: 50%,", "{at: 62%,")]
    [InlineData("lead", "at", "a, b", "{at: 50%,", "{at: \"a, b\",")]
    [InlineData("block", "x", "-12 V", "x: 1 ", "x: -12 V ")]
    [InlineData("block", "x", "yes: no", "x: 1 ", "x: \"yes: no\" ")]
    public void A_value_changes_and_every_other_character_stays(string map, string key, string value, string was, string becomes) =>
        Assert.Equal(Text.Replace(was, becomes), Edit(Text, (edit, root) => edit.Set(Inner(root, map), key, value)));

    [Fact]
    public void A_quoted_value_stays_quoted() =>
        Assert.Equal(Text.Replace("'q'", "\"it's \\\"q\\\"\""), Edit(Text, (edit, root) => edit.Set(root, "z", "it's \"q\"")));

    [Fact]
    public void A_key_without_a_value_gets_one() =>
        Assert.Equal(Text.Replace("none:", "none: 5 V"), Edit(Text, (edit, root) => edit.Set(root, "none", "5 V")));

    [Fact]
    public void A_new_entry_goes_to_the_end_of_its_map_in_the_maps_style()
    {
        Assert.Equal(Text.Replace("P1: 0.5}", "P1: 0.5, P2: 20%}"), Edit(Text, (edit, root) => edit.Add(Inner(Inner(root, "lead"), "set"), "P2", "20%")));
        Assert.Equal(Text.Replace("set: {P1: 0.5}}", "set: {P1: 0.5}, k: v}"), Edit(Text, (edit, root) => edit.Add(Inner(root, "lead"), "k", "v")));
        Assert.Equal(Text.Replace("empty: {}", "empty: {k: v}"), Edit(Text, (edit, root) => edit.Add(Inner(root, "empty"), "k", "v")));
        Assert.Equal(Text.Replace("- b # last\r\n", "- b # last\r\n  k: v\r\n"), Edit(Text, (edit, root) => edit.Add(Inner(root, "block"), "k", "v")));
        Assert.Equal(Text.Replace("none:\r\n", "none:\r\nk: v\r\n"), Edit(Text, (edit, root) => edit.Add(root, "k", "v")));
    }

    [Theory]
    [InlineData("a: 1", "a: 1\nk: v")]
    [InlineData("a: |\n  text\n  more\n# end\n", "a: |\n  text\n  more\nk: v\n# end\n")]
    [InlineData("a: [1,\n  2] # x\n", "a: [1,\n  2] # x\nk: v\n")]
    public void A_new_entry_follows_whatever_stood_last(string text, string becomes) =>
        Assert.Equal(becomes, Edit(text, (edit, root) => edit.Add(root, "k", "v")));

    [Fact]
    public void Several_changes_meet_in_one_text() =>
        Assert.Equal(Text.Replace("50%", "1%").Replace("x: 1", "x: 2"),
            Edit(Text, (edit, root) => { edit.Set(Inner(root, "block"), "x", "2"); edit.Set(Inner(root, "lead"), "at", "1%"); }));

    [Fact]
    public void A_file_is_written_whole_with_its_byte_order_mark()
    {
        string path = Path.Combine(Path.GetTempPath(), $"consort-edit-{Environment.ProcessId}.yaml");
        try
        {
            File.WriteAllBytes(path, [0xEF, 0xBB, 0xBF, .. "a: 1 # µ\n"u8]);
            ErrorList errors = new();
            SourceText source = SourceText.Read(path, "f", errors)!;
            YamlEdit edit = new(source);
            edit.Set(YamlTree.ReadMap(source, errors)!, "a", "2");
            edit.WriteTo(path);
            Assert.Equal([0xEF, 0xBB, 0xBF, .. "a: 2 # µ\n"u8], File.ReadAllBytes(path));
            Assert.Empty(Directory.GetFiles(Path.GetTempPath(), $"consort-edit-{Environment.ProcessId}.yaml.*.part"));
        }
        finally
        {
            File.Delete(path);
        }
    }
}
