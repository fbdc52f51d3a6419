using System.Buffers.Binary;
using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Sound.Playing;

/// <summary>
/// Reads a Standard MIDI File (Standard MIDI Files 1.0, RP-001; MIDI Manufacturers Association): formats 0 and 1, time in
/// ticks of a quarter note or of SMPTE frames, tempo changes, notes of all channels, pitch bend with its range (RPN 0).
/// </summary>
public sealed class MidiFile
{
    private const double MostSeconds = 3600;

    private sealed record Event(long Tick, int Track, int Order, byte Status, byte A, byte B, int Tempo = 0);

    private readonly byte[] bytes;
    private int at;

    private MidiFile(byte[] bytes) => this.bytes = bytes;

    /// <summary>The score in a file's bytes, or why there is none.</summary>
    /// <param name="bytes">The whole file.</param>
    /// <param name="channel">1 to 16 to play one channel only; null for all.</param>
    public static (Score? Score, WordFault? Fault) Read(byte[] bytes, int? channel = null)
    {
        try
        {
            return new MidiFile(bytes).Read(channel);
        }
        catch (EndOfStreamException e)
        {
            return (null, new(e.Message, "write the file anew: it is cut off or damaged"));
        }
    }

    private (Score?, WordFault?) Read(int? channel)
    {
        if (bytes.Length < 14 || !Chunk("MThd", out int header) || header < 6)
            return (null, new("this is no Standard MIDI File: it does not begin with MThd", "name a .mid file"));
        int end = at + header;
        int format = Take16(), tracks = Take16();
        int division = Take16();
        at = end;
        if (format > 1)
            return (null, new($"MIDI files of format {format} hold songs apart from each other, which are not read", "save it as format 0 or 1"));
        List<Event> events = [];
        for (int track = 0; track < tracks && at + 8 <= bytes.Length;)
        {
            bool isTrack = Chunk("MTrk", out int length);
            int stop = at + length;
            if (stop > bytes.Length)
                throw new EndOfStreamException($"the MIDI file ends within a chunk, at byte {bytes.Length}");
            if (isTrack)
                ReadTrack(track++, stop, events);
            at = stop; // chunks of other kinds are passed over, as the standard asks
        }
        events.Sort((a, b) => a.Tick != b.Tick ? a.Tick.CompareTo(b.Tick) : a.Track != b.Track ? a.Track.CompareTo(b.Track) : a.Order.CompareTo(b.Order));
        return Play(events, division, channel);
    }

    private void ReadTrack(int track, int stop, List<Event> events)
    {
        (long tick, byte running, int order) = (0, 0, 0);
        while (at < stop)
        {
            tick += TakeLength();
            byte status = Peek() >= 0x80 ? Take() : running;
            if (status < 0x80)
                throw new EndOfStreamException($"the MIDI file has a data byte where a status byte should be, at byte {at}");
            if (status == 0xFF)
            {
                byte kind = Take();
                int length = (int)TakeLength();
                int next = at + length;
                if (kind == 0x51 && length == 3)
                    events.Add(new(tick, track, order++, status, 0, 0, (Take() << 16) | (Take() << 8) | Take()));
                at = next;
                continue;
            }
            if (status is 0xF0 or 0xF7)
            {
                int length = (int)TakeLength();
                at += length;
                continue;
            }
            running = status;
            byte a = Take();
            byte b = (status & 0xF0) is 0xC0 or 0xD0 ? (byte)0 : Take();
            events.Add(new(tick, track, order++, status, a, b));
        }
    }

    private static (Score?, WordFault?) Play(List<Event> events, int division, int? channel)
    {
        List<(int Channel, int Key)> held = [];
        double[] bend = new double[16], range = [.. Enumerable.Repeat(2.0, 16)];
        (int High, int Low)[] selected = [.. Enumerable.Repeat((127, 127), 16)];
        ImmutableArray<Touch>.Builder touches = ImmutableArray.CreateBuilder<Touch>();
        (double seconds, long tick, double perTick) = (0, 0, Seconds(division, 500_000));
        foreach (Event now in events)
        {
            seconds += (now.Tick - tick) * perTick;
            tick = now.Tick;
            int own = now.Status & 0x0F;
            if (now.Status == 0xFF)
                perTick = Seconds(division, now.Tempo);
            else if (channel is null || own == channel - 1)
                Follow(now, own);
        }
        if (touches.Count == 0)
            return (null, new("the MIDI file has no notes", channel is null ? "name a file with notes" : $"channel {channel} has none: leave --channel out"));
        double end = Math.Max(touches[^1].Seconds, seconds);
        if (touches[^1].Key is not null)
            touches.Add(new(end, null));
        return end > MostSeconds
            ? (null, new("the MIDI file lasts more than an hour", "cut it"))
            : (new(touches.ToImmutable(), touches[^1].Seconds), null);

        void Follow(Event now, int own)
        {
            switch (now.Status & 0xF0)
            {
                case 0x90 when now.B > 0:
                    held.Remove((own, now.A));
                    held.Add((own, now.A));
                    break;
                case 0x80 or 0x90:
                    held.Remove((own, now.A));
                    break;
                case 0xE0:
                    bend[own] = (now.A + (now.B << 7) - 8192) / 8192.0;
                    break;
                case 0xB0:
                    Control(now, own);
                    return;
                default:
                    return;
            }
            double? key = held.Count > 0 ? held[^1].Key + bend[held[^1].Channel] * range[held[^1].Channel] : null;
            if (touches.Count > 0 ? touches[^1].Key != key : key is not null)
                touches.Add(new(seconds, key));
        }

        void Control(Event now, int own)
        {
            if (now.A == 101)
                selected[own].High = now.B;
            else if (now.A == 100)
                selected[own].Low = now.B;
            else if (now.A == 6 && selected[own] == (0, 0))
                range[own] = now.B;
            else if (now.A is 120 or 123) // all sound off, all notes off
                held.RemoveAll(note => note.Channel == own);
        }
    }

    // Negative: SMPTE frames a second, and ticks a frame; 29 stands for 30 frames with drops, 29.97 a second.
    private static double Seconds(int division, int tempo) =>
        (division & 0x8000) == 0
            ? tempo * 1e-6 / Math.Max(1, division)
            : 1 / ((-(sbyte)(division >> 8) == 29 ? 30000.0 / 1001 : -(sbyte)(division >> 8)) * Math.Max(1, division & 0xFF));

    private bool Chunk(string kind, out int length)
    {
        bool fits = true;
        for (int i = 0; i < 4; i++)
            fits &= Take() == kind[i];
        length = BinaryPrimitives.ReadInt32BigEndian(Span(4));
        if (length < 0)
            throw new EndOfStreamException($"the MIDI file has a chunk of no sensible length, at byte {at - 4}");
        return fits;
    }

    private byte Peek() => at < bytes.Length ? bytes[at] : throw new EndOfStreamException($"the MIDI file ends too early, at byte {bytes.Length}");

    private byte Take() => Span(1)[0];

    private int Take16() => BinaryPrimitives.ReadUInt16BigEndian(Span(2));

    // Seven bits a byte, most significant first, four bytes at most.
    private long TakeLength()
    {
        long value = 0;
        for (int i = 0; i < 4; i++)
        {
            byte next = Take();
            value = (value << 7) | (long)(next & 0x7F);
            if (next < 0x80)
                return value;
        }
        throw new EndOfStreamException($"the MIDI file has a number of more than four bytes, at byte {at}");
    }

    private ReadOnlySpan<byte> Span(int count)
    {
        if (at + count > bytes.Length)
            throw new EndOfStreamException($"the MIDI file ends too early, at byte {bytes.Length}");
        at += count;
        return bytes.AsSpan(at - count, count);
    }
}
