using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Live;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Spectra;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Sound;

/// <summary>Everything that can be moved while a voice sounds.</summary>
public sealed partial class SoundControls
{
    private const double HeardCents = 0.1; // less, over the player's whole range, is a leak through the supply and no modulation

    private StripStand[] strips = [];
    private PlayerStand[] players = [];
    private double db = -20;
    private double octave;
    private double fine;
    private double glide;
    private double attack = 5;
    private double release = 50;
    private double noise = 1;
    private double warmer;
    private double following = 2;

    /// <summary>What is played.</summary>
    [Parameter, EditorRequired]
    public SoundLine Line { get; set; } = null!;

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        SoundingVoice voice = Line.Voice;
        strips = [.. voice.Settings.Strips.Select(strip => new StripStand(strip.Jack, LawOf(strip).Sync is not null) { Place = Math.Round(100 * strip.Place) })];
        players = [.. voice.Settings.Moves.Select((move, m) => new PlayerStand(move.Player, DoneBy(m)))];
        Follow();
    }

    private SoundLaw LawOf(Strip strip) => Line.Voice.Laws.First(law => law.Oscillator.Name == strip.Oscillator);

    private string DoneBy(int move)
    {
        SoundingVoice voice = Line.Voice;
        string[] widths = [.. voice.Settings.Strips.Where(strip => LawOf(strip).Moves[move].Edges.ContainsKey(strip.Output)).Select(strip => strip.Jack)];
        string[] pitches = [.. voice.Laws.Where(law => law.Moves[move].Ratios.Any(ratio => Math.Abs(1200 * Math.Log2(ratio)) > HeardCents)).Select(law => law.Oscillator.Name)];
        string[] does =
        [
            .. widths.Length > 0 ? new[] { $"pulse width of {string.Join(", ", widths)}" } : [],
            .. pitches.Length > 0 ? new[] { $"frequency of {string.Join(", ", pitches)}" } : [],
        ];
        return does.Length > 0 ? $"Moves {string.Join(" and ", does)}." : "Moves nothing that is heard here.";
    }

    private void Set(Action change)
    {
        change();
        Follow();
    }

    private void Follow() =>
        Line.Player.Controls = new(
            [.. strips.Select(strip => new LiveStrip(1200 * strip.Octave + strip.Cents, Decibels.Ratio(strip.Db), strip.Place / 100, strip.IsSynced))],
            [.. players.Select(player => new LiveMove(player.Volts, player.Depth, player.Hertz, player.Ratio, player.IsTriangle))],
            1200 * octave + fine,
            glide / 1e3,
            attack / 1e3,
            release / 1e3,
            Decibels.Ratio(db)
        )
        {
            Unrest = new(noise, warmer, following),
        };

    private sealed class StripStand(string jack, bool canSync)
    {
        public string Jack => jack;
        public bool CanSync { get; } = canSync;
        public bool IsSynced { get; set; } = canSync;
        public double Cents { get; set; }
        public double Octave { get; set; }
        public double Db { get; set; }
        public double Place { get; set; }
    }

    private sealed class PlayerStand(string name, string does)
    {
        public string Name => name;
        public string Does => does;
        public double Volts { get; set; }
        public double Depth { get; set; }
        public double Hertz { get; set; } = 1;
        public double Ratio { get; set; }
        public bool IsTriangle { get; set; }
    }
}
