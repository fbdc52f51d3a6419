# Written with mido 1.2.10 (Debian's python3-mido): an independent writer of Standard MIDI Files.
import mido
from mido import MidiFile, MidiTrack, Message, MetaMessage, bpm2tempo
# scale.mid: format 0, 480 ticks, 120 then 60 beats a minute
m = MidiFile(type=0, ticks_per_beat=480); t = MidiTrack(); m.tracks.append(t)
t.append(MetaMessage('track_name', name='scale', time=0))
t.append(MetaMessage('set_tempo', tempo=bpm2tempo(120), time=0))
t.append(Message('program_change', program=80, time=0))
for i, k in enumerate([57, 60, 64]):
    t.append(Message('note_on', note=k, velocity=96, time=0))
    if i == 1: t.append(MetaMessage('set_tempo', tempo=bpm2tempo(60), time=240)); t.append(Message('note_off', note=k, velocity=0, time=240))
    else: t.append(Message('note_on', note=k, velocity=0, time=480))
t.append(MetaMessage('end_of_track', time=0))
m.save('scale.mid')
# two-tracks.mid: format 1, 96 ticks; overlapping keys, a bend of half its range of 12 semitones, system exclusive
m = MidiFile(type=1, ticks_per_beat=96)
a = MidiTrack(); m.tracks.append(a); a.append(MetaMessage('set_tempo', tempo=400000, time=0)); a.append(MetaMessage('time_signature', numerator=3, denominator=4, time=0))
b = MidiTrack(); m.tracks.append(b)
b.append(Message('sysex', data=(0x7E, 0x7F, 9, 1), time=0))
for c, v in ((101, 0), (100, 0), (6, 12), (38, 0)): b.append(Message('control_change', channel=2, control=c, value=v, time=0))
b.append(Message('note_on', channel=2, note=48, velocity=100, time=0))
b.append(Message('note_on', channel=2, note=55, velocity=100, time=96))
b.append(Message('note_off', channel=2, note=55, velocity=64, time=96))
b.append(Message('pitchwheel', channel=2, pitch=4096, time=48))
b.append(Message('note_off', channel=2, note=48, velocity=64, time=48))
c = MidiTrack(); m.tracks.append(c)
c.append(Message('note_on', channel=5, note=90, velocity=1, time=960)); c.append(Message('note_off', channel=5, note=90, time=96))
m.save('two-tracks.mid')
for f in ('scale.mid', 'two-tracks.mid'):
    print(f, [ (round(x.time, 6), str(x)) for x in MidiFile(f) ])
