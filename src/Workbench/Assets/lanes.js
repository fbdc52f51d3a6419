// Lines that have each a strip and a scale of their own, one below the other, on graticules as an oscilloscope's.
const most = 12; // divisions across a part

export const scaleOf = (line, index) => line.lane ? `lane${index}` : 'y';

export const scales = lines => Object.fromEntries(lines.map((line, index) => [scaleOf(line, index), { range: [line.lane.low, line.lane.high] }]));

// What leaves its lane runs along the edge, as a trace that leaves the screen is cut off there.
export const inside = ({ ys, lane }) => lane ? ys.map(y => y == null ? y : Math.min(lane.top, Math.max(lane.bottom, y))) : ys;

// The whole has the divisions that were asked for; a part the finest of 1, 2, 5 and their decades of which a dozen reach across it.
export function division({ from, to, step }, { min, max }) {
  const span = (max - min) * (1 - 1e-9);
  if (span >= (to - from) * (1 - 1e-6)) return step;
  const power = 10 ** Math.floor(Math.log10(span / most));
  return [1, 2, 5, 10].map(lead => lead * power).find(one => one * most >= span);
}

export function positions({ min, max }, step) {
  const first = Math.ceil(min / step - 1e-6), last = Math.floor(max / step + 1e-6);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, count) => (first + count) * step);
}

export function rule(u, spec, colour) {
  const art = u.ctx, { left, width } = u.bbox, thick = Math.round(devicePixelRatio) || 1;
  const xs = positions(u.scales.x, division(spec.divisions, u.scales.x)).map(x => Math.round(u.valToPos(x, 'x', true)));
  const marks = spec.marks.map(mark => Math.round(u.valToPos(mark.at, 'x', true))).filter(x => x >= left && x <= left + width);
  const stroke = (x1, y1, x2, y2, name) => { art.strokeStyle = colour(name); art.beginPath(); art.moveTo(x1, y1); art.lineTo(x2, y2); art.stroke(); };
  art.save();
  art.translate(thick % 2 / 2, thick % 2 / 2); // so that an odd number of pixels is filled whole
  art.lineWidth = thick;
  spec.lines.forEach((line, index) => {
    const { lane } = line, height = value => Math.round(u.valToPos(value, scaleOf(line, index), true));
    for (const x of [left, ...xs, left + width]) stroke(x, height(lane.bottom), x, height(lane.top), '--grid');
    lane.rules.forEach((value, count) => stroke(left, height(value), left + width, height(value), count === (lane.rules.length - 1) / 2 ? '--soft' : '--grid'));
    art.setLineDash([4 * thick, 4 * thick]);
    for (const x of marks) stroke(x, height(lane.bottom), x, height(lane.top), '--ink');
    art.setLineDash([]);
  });
  art.restore();
}

export function letter(u, spec, colour, font, written) {
  const art = u.ctx, { left } = u.bbox, ratio = devicePixelRatio;
  const sized = font.replace(/^\d+/, size => size * ratio);
  art.save();
  spec.lines.forEach((line, index) => {
    const { lane } = line, height = value => u.valToPos(value, scaleOf(line, index), true), above = height(lane.top) - 4 * ratio;
    art.font = sized; art.fillStyle = colour('--soft'); art.textAlign = 'right'; art.textBaseline = 'middle';
    for (const tick of lane.ticks) art.fillText(tick.name, left - 6 * ratio, height(tick.at));
    art.font = `bold ${sized}`; art.fillStyle = colour('--c' + line.style % 6); art.textAlign = 'left'; art.textBaseline = 'alphabetic';
    written(art, line.name, left, above, ratio);
    const beside = left + art.measureText(line.name).width + 10 * ratio;
    art.font = sized; art.fillStyle = colour('--soft');
    written(art, lane.title, beside, above, ratio);
  });
  art.restore();
}
