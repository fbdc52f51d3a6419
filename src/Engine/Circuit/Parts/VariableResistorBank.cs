using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Potentiometers and trimmers: the track's resistance is shared at the wiper by the taper's law, from one end resistance
/// to the other. With both ends joined and a wiper resistance above zero the wiper's contact is an inner node; with one
/// end open it adds to the other side. Thermal noise of the track. Left out: noise of the moving contact, backlash.
/// </summary>
internal sealed class VariableResistorBank : PartBank
{
    private enum Taper
    {
        Linear,
        Audio,
        ReverseAudio,
    }

    private readonly Taper[] tapers;
    private readonly TwoPole[] lower;
    private readonly TwoPole[] upper;
    private readonly TwoPole[] contact;
    private readonly double[] lowerConductance;
    private readonly double[] upperConductance;
    private readonly double[] contactConductance;

    public VariableResistorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        tapers = [.. parts.Select(TaperOf)];
        lower = new TwoPole[Count];
        upper = new TwoPole[Count];
        contact = new TwoPole[Count];
        for (int i = 0; i < Count; i++)
            Join(parts[i], i, at);
        lowerConductance = new double[Count];
        upperConductance = new double[Count];
        contactConductance = new double[Count];
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double warmer = kelvin - Constants.ReferenceTemperature;
            double track = Numbers("value")[i] * (1 + Numbers("tempco")[i] * warmer);
            double ends = Numbers("end resistance")[i];
            double wiper = Numbers("wiper resistance")[i];
            double share = Share(tapers[i], Math.Clamp(Numbers("position")[i], 0, 1));
            double inSeries = contact[i].IsThere ? 0 : wiper;
            double moving = Math.Max(track - 2 * ends, 0);
            lowerConductance[i] = Least.Conductance(ends + moving * share + inSeries);
            upperConductance[i] = Least.Conductance(ends + moving * (1 - share) + inSeries);
            contactConductance[i] = Least.Conductance(wiper);
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            if (lower[i].IsThere)
                lower[i].Add(pass.G, lowerConductance[i]);
            if (upper[i].IsThere)
                upper[i].Add(pass.G, upperConductance[i]);
            if (contact[i].IsThere)
                contact[i].Add(pass.G, contactConductance[i]);
        }
    }

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        string name = Parts[part].Name;
        lower[part].AddNoise(into, $"{name} ccw thermal", pass.Temperature, lowerConductance[part]);
        upper[part].AddNoise(into, $"{name} cw thermal", pass.Temperature, upperConductance[part]);
        contact[part].AddNoise(into, $"{name} wiper thermal", pass.Temperature, contactConductance[part]);
    }

    /// <summary>Resistance from the counter-clockwise end as a share of the track. The laws A and C of IEC 60393-1 as
    /// (81^x − 1)/80 and its mirror: 10 % at half turn, from makers' curves.</summary>
    private static double Share(Taper taper, double position) =>
        taper switch
        {
            Taper.Audio => Audio(position),
            Taper.ReverseAudio => 1 - Audio(1 - position),
            _ => position,
        };

    private static double Audio(double x) => (Math.Pow(81, x) - 1) / 80;

    private static Taper TaperOf(Part part) =>
        part.Texts.GetValueOrDefault("taper") switch
        {
            "audio" => Taper.Audio,
            "reverse audio" => Taper.ReverseAudio,
            _ => Taper.Linear,
        };

    private void Join(Part part, int i, Assembly at)
    {
        bool hasLower = part.NetAt("ccw") is not null;
        bool hasUpper = part.NetAt("cw") is not null;
        int wiper = at.Net(part, "wiper");
        int middle = wiper;
        if (hasLower && hasUpper && part.Number("wiper resistance") > 0)
        {
            middle = at.Inner(part, "contact", UnknownKind.Voltage);
            contact[i] = new(middle, wiper, at);
        }
        if (hasLower)
            lower[i] = new(at.Net(part, "ccw"), middle, at);
        if (hasUpper)
            upper[i] = new(middle, at.Net(part, "cw"), at);
    }
}
