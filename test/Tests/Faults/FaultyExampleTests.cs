using System.Globalization;
using System.Text;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Expected;
using Consort.Engine.Faults;
using Consort.Engine.Fit;
using Consort.Engine.Pitch.Builds.Draws;
using Xunit;

namespace Consort.Tests.Faults;

public sealed class FaultyExampleTests
{
    [Fact]
    public void The_example_of_a_faulty_unit_is_what_the_program_makes_of_its_seed()
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair"));
        Member lead = voice!.Members.First(one => UnitPlace.ModuleOf(one) == "pair-lead");
        FigureReader reader = new(UnitAlone.Of(voice, lead), lead, stock!);
        Fault fault = FaultList.Of(lead.Module).First(one => one.Part == "R17" && one.Kind == FaultKind.Decade && one.Words.Contains("49.9", StringComparison.Ordinal));
        string made = Table(reader, lead.Module, reader.Read(fault, new RandomPoints(3), 3)!);
        string path = Path.Combine(Golden.Root, "examples", "pair", "readings", "lead-0003-figures.csv");
        if (Environment.GetEnvironmentVariable("CONSORT_GOLDEN") == "write")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, made);
        }
        Assert.Equal(File.ReadAllText(path), made);
    }

    private static string Table(FigureReader reader, Module module, double[] figures)
    {
        HashSet<string> places = [.. TestPlaces.Of(module).Select(place => place.Net)];
        StringBuilder text = new(
            "# Figures of unit 0003 of the pair's lead, which has something wrong with it. It was never built: its parts were drawn within\n"
                + "# their limits, one fault was put in, and its circuit was solved; figures are rounded as meters show them.\n"
                + "what,place,reading\n"
        );
        for (int i = 0; i < figures.Length; i++)
        {
            UnitFigure figure = reader.Figures[i];
            if (figure.Kind is FigureKind.Current or FigureKind.Pitch || (figure.Kind != FigureKind.Swing && places.Contains(figure.Place)))
                text.Append(CultureInfo.InvariantCulture, $"{figure.Word},{figure.Place},{Shown(figure, figure.Plain(figures[i]))}\n");
        }
        return text.ToString();
    }

    private static string Shown(UnitFigure figure, double value) =>
        figure.Kind switch
        {
            FigureKind.Current => string.Create(CultureInfo.InvariantCulture, $"{1e3 * value:0.0} mA"),
            FigureKind.Pitch => string.Create(CultureInfo.InvariantCulture, $"{value:0.0} Hz"),
            FigureKind.Lowest or FigureKind.Highest => string.Create(CultureInfo.InvariantCulture, $"{value:0.00;-0.00;0.00} V"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{value:0.000;-0.000;0.000} V"),
        };
}
