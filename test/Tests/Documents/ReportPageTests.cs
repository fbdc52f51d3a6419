using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Consort.Engine.Documents;
using Xunit;

namespace Consort.Tests.Documents;

public sealed partial class ReportPageTests
{
    private static readonly string Page = ReportPage.Write(InventedProof.Quartet());

    private static readonly string Words = Page.Replace("&#160;", " ", StringComparison.Ordinal); // a number stays with its unit

    [Fact]
    public void The_page_needs_nothing_beside_it()
    {
        Assert.DoesNotMatch("<(script|link|img|iframe|object)[ >]", Page);
        Assert.DoesNotContain("http", Page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("url(", Page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_is_well_formed()
    {
        string body = Page[(Page.IndexOf('\n') + 1)..].Replace("<meta charset=\"utf-8\">", "", StringComparison.Ordinal);
        body = VoidElements().Replace(body, "");
        Assert.Equal("html", XDocument.Parse(body).Root!.Name.LocalName);
    }

    [Fact]
    public void The_same_proof_gives_the_same_page() => Assert.Equal(Page, ReportPage.Write(InventedProof.Quartet()));

    [Fact]
    public void A_missed_claim_says_so_with_its_mend()
    {
        Assert.Contains("Does not hold: 1 of 5 claims is missed.", Words, StringComparison.Ordinal);
        Assert.Contains("<b>Mend:</b> a capacitor within 30 ppm/K", Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Labels_at_the_ends_of_lines_do_not_lie_on_each_other()
    {
        foreach (Match plot in Plots().Matches(Page))
        {
            double[] heights =
            [
                .. EndLabels().Matches(plot.Value)
                    .Select(label => double.Parse(label.Groups[2].Value, CultureInfo.InvariantCulture))
                    .Order(),
            ];
            for (int i = 1; i < heights.Length; i++)
                Assert.True(heights[i] - heights[i - 1] > 13, $"{heights[i - 1]} and {heights[i]} in {plot.Value[..120]}");
        }
    }

    [Fact]
    public void Text_of_a_voice_is_text_in_the_page()
    {
        string page = ReportPage.Write(InventedProof.Quartet() with { Voice = "<b>bold & loud</b>" });
        Assert.Contains("&lt;b&gt;bold &amp; loud&lt;/b&gt;", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>bold", page, StringComparison.Ordinal);
    }

    [GeneratedRegex("<(meta|br)[^>]*>")]
    private static partial Regex VoidElements();

    [GeneratedRegex("<svg.*?</svg>", RegexOptions.Singleline)]
    private static partial Regex Plots();

    [GeneratedRegex("class=\"(label t.|limit-text)\" x=\"[^\"]*\" y=\"([^\"]*)\"")]
    private static partial Regex EndLabels();
}
