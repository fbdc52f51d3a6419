namespace Consort.Engine.Orders;

/// <summary>Packages of sorts for which neither the folder nor the parts library names one, and how many spare pieces a
/// builder takes. Common practice, no source.</summary>
internal static class Packages
{
    /// <summary>The usual package; empty where there is no usual one.</summary>
    public static string Usual(PartSort sort) =>
        sort.Kind.Word switch
        {
            "resistor" => sort.Form.Length > 0 ? "SIL" : "axial, 0.25 W",
            "capacitor" => "radial, 5 mm pitch",
            "trimmer" => sort.Form == "single turn" ? "6 mm, top adjust" : "multi-turn, top adjust",
            "potentiometer" => "panel bush, 6 mm shaft",
            "selector" => "panel switch",
            "jack" => "3.5 mm, panel thread",
            "header" or "power" => "box header, 2.54 mm",
            _ => "",
        };

    /// <summary>Spare share when the stock does not say: small parts are dropped and bent.</summary>
    public static double UsualSpare(string kind) => kind is "resistor" or "capacitor" or "diode" or "npn" or "pnp" ? 0.05 : 0;
}
