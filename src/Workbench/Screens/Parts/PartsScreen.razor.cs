using System.Globalization;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Orders;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Parts;

/// <summary>What is to be bought for so many voices? Counted anew with every change of the texts.</summary>
public sealed partial class PartsScreen
{
    private const int MostUnits = 10_000;

    private PartsOrder? order;
    private string csv = "", book = "";
    private int units = 1;
    private bool onlyToBuy;
    private (long Revision, int Units) counted = (-1, 0);

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        base.OnInitialized();
        units = int.TryParse(Selection.Word("units"), NumberStyles.None, CultureInfo.InvariantCulture, out int asked) && asked is > 0 and <= MostUnits ? asked : 1;
        List();
    }

    /// <inheritdoc/>
    protected override void Renew() =>
        _ = InvokeAsync(() =>
        {
            List();
            StateHasChanged();
        });

    private void Count(ChangeEventArgs change)
    {
        if (!int.TryParse($"{change.Value}", NumberStyles.None, CultureInfo.InvariantCulture, out int asked) || asked is < 1 or > MostUnits)
            return;
        units = asked;
        Selection.Choose("units", units);
        List();
    }

    private void List()
    {
        if (Session.State.Design is not { } design || counted == (design.Revision, units))
            return;
        counted = (design.Revision, units);
        order = new PartsLister(design.Voice, design.Stock, VoiceFolder.Library(design.Texts)).List(units);
        Shelf.Clear();
        csv = Shelf.Put("parts.csv", Encoding.UTF8.GetBytes(PartsCsv.Write(PartsSheet.Lines(order))));
        book = Shelf.Put("parts.xlsx", PartsBook.Write(order));
    }
}
