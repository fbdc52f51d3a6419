// Draws one chart and keeps it in step with what the program sends. Colours come from the page's style sheet; on paper,
// where the page is light whatever the screen is, from the second list.
import uPlot from './uplot/uPlot.esm.js';
import { division, inside, letter, positions, rule, scaleOf, scales } from './lanes.js';

const dashes = [[], [7, 4], [2, 3], [9, 3, 2, 3], [14, 4], [5, 2, 1, 2, 1, 2]];
const paper = { '--ink': '#000', '--soft': '#333', '--sheet': '#fff', '--grid': '#ccc', '--band': '#eee', '--c0': '#004e8a', '--c1': '#b34700', '--c2': '#00695c', '--c3': '#7b2d8b', '--c4': '#6b5b00', '--c5': '#404040' };
const paperWidth = 690; // px: an upright A4 page between its margins, which the page does not know before it is laid out
const paperHeight = 400; // px, of a page's 1050
const charts = new Map();
let printing = false;

const colour = name => printing ? paper[name] : getComputedStyle(document.documentElement).getPropertyValue(name).trim();
const font = '12px "Liberation Sans", "Segoe UI", Helvetica, Arial, sans-serif';

export function draw(host, readout, spec) {
  if (!host?.isConnected) return; // its screen was left while this was on its way
  const old = charts.get(host);
  const keep = old && old.spec.key === spec.key ? { ...old.plot.scales.x } : null;
  const isSame = old && frame(old.spec) === frame(spec);
  if (isSame) {
    old.spec = spec;
    old.plot.setData(rows(spec), !old.isZoomed);
    if (old.isZoomed) old.plot.setScale('x', keep);
    invite(old);
    return;
  }
  if (old) old.plot.destroy();
  const entry = { spec, readout, invitation: old?.invitation ?? readout.textContent, isZoomed: false, plot: null };
  charts.set(host, entry);
  entry.plot = build(host, entry);
  if (!old) listen(host, entry);
  invite(entry);
}

// What was read before these readings is theirs no longer.
function invite({ plot, readout, invitation }) { if (plot.cursor.idx == null) readout.textContent = invitation; }

export function drop(host) {
  const entry = charts.get(host);
  if (!entry) return;
  charts.delete(host);
  entry.watch?.disconnect();
  entry.plot.destroy();
}

export function all(host) {
  const entry = charts.get(host);
  if (entry) { entry.isZoomed = false; entry.plot.setData(rows(entry.spec), true); }
}

export function keepPicture(host, name) {
  const entry = charts.get(host);
  if (!entry) return;
  const from = entry.plot.ctx.canvas, to = document.createElement('canvas');
  to.width = from.width; to.height = from.height;
  const art = to.getContext('2d');
  art.fillStyle = colour('--sheet') || '#fff';
  art.fillRect(0, 0, to.width, to.height);
  art.drawImage(from, 0, 0);
  to.toBlob(blob => give(blob, name), 'image/png');
}

export function keepText(name, type, text) { give(new Blob([text], { type }), name); }

function give(blob, name) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

// All but the readings.
const frame = spec => JSON.stringify({ ...spec, xs: 0, lines: spec.lines.map(line => [line.name, line.lane]) });

const rows = spec => [spec.xs, ...spec.lines.map(inside)];

function build(host, entry) {
  const spec = entry.spec, divisions = spec.divisions;
  const axis = (scale, side) => ({ label: scale.title, labelFont: font, font, stroke: () => colour('--soft'), labelSize: 20, size: side ? 62 : 34, gap: 4,
    values: (u, ticks, index, space, step) => ticks.map(tick => shown(tick, digits(step))),
    grid: { stroke: () => colour('--grid'), width: 1 }, ticks: { stroke: () => colour('--soft'), size: 4, width: 1 } });
  const series = spec.lines.map((line, index) => ({
    scale: scaleOf(line, index),
    label: line.name, pxAlign: line.lane ? 0 : 1, stroke: () => colour('--c' + line.style % 6), width: line.faint ? 1 : 2, dash: line.lane ? [] : dashes[line.style % dashes.length], spanGaps: true,
    points: { show: spec.xs.length <= 40 && !spec.bars, size: 6, fill: () => colour('--c' + line.style % 6) },
    paths: spec.bars ? uPlot.paths.bars({ size: [1], gap: 1, align: 1 }) : undefined,
    fill: spec.bars ? () => colour('--c' + line.style % 6) + '55' : undefined,
  }));
  const plot = new uPlot({
    width: width(host), height: height(spec), pxAlign: 1, padding: [8, 16, 0, 0], legend: { show: false },
    scales: { x: { time: false, range: (u, low, high) => across(entry.spec, low, high) }, ...(divisions ? scales(spec.lines) : { y: { range: (u, low, high) => reach(spec, low, high) } }) },
    axes: divisions ? graticule(axis, spec) : [axis(spec.x, 0), axis(spec.y, 1)],
    series: [{ label: spec.x.title }, ...series],
    cursor: { points: { size: 8 }, drag: { x: true, y: false, setScale: true } },
    hooks: {
      drawClear: [u => divisions ? rule(u, spec, colour) : ground(u, spec)],
      draw: [u => divisions ? letter(u, spec, colour, font, written) : levels(u, spec)],
      setCursor: [u => tell(u, entry)],
      setSelect: [u => { if (u.select.width > 0) entry.isZoomed = true; }],
      setScale: [(u, key) => { if (key === 'x') entry.isZoomed = entry.spec.xs.length > 1 && (u.scales.x.min > entry.spec.xs[0] || u.scales.x.max < entry.spec.xs.at(-1)); }],
    },
  }, rows(spec), host);
  plot.over.tabIndex = -1;
  return plot;
}

// Lanes letter their own heights; time is told in divisions, which are others in a part that is zoomed to.
function graticule(axis, spec) {
  const step = u => division(spec.divisions, u.scales.x), quiet = { grid: { show: false }, ticks: { show: false } };
  const label = u => `${spec.x.title}, ${shown(step(u), digits(step(u)))} ${spec.x.unit} per division · ${spec.divisions.note}`;
  return [
    { ...axis(spec.x, 0), ...quiet, label, splits: u => positions(u.scales.x, step(u)), values: (u, ticks) => ticks.map(tick => shown(tick, digits(step(u)))) },
    { ...axis(spec.y, 1), ...quiet, label: null, scale: scaleOf(spec.lines[0], 0), splits: () => [], values: () => [] },
  ];
}

// All positions, to where the last bar or the last division ends; or the part that is zoomed to.
function across({ xs, bars, divisions }, low, high) {
  if (bars && high === xs.at(-1)) return [low, high + xs[1] - xs[0]];
  return divisions && low === xs[0] && high === xs.at(-1) ? [divisions.from, divisions.to] : [low, high];
}

const width = host => Math.max(280, printing ? Math.min(paperWidth, host.clientWidth) : host.clientWidth);
const height = spec => printing ? Math.min(spec.height, Math.max(paperHeight, 0.6 * spec.height)) : spec.height; // many lanes, on the page of their readings

// As many as tell a step's multiples apart without rounding: three for 0.025.
function digits(step) {
  let count = 0;
  while (count < 9 && Math.abs(step * 10 ** count - Math.round(step * 10 ** count)) > 1e-6 * step * 10 ** count) count++;
  return count;
}

function reach(spec, low, high) {
  for (const level of spec.levels) { low = Math.min(low, level.at); high = Math.max(high, level.at); }
  if (spec.bars || spec.fromZero) low = Math.min(0, low);
  const room = 0.08 * (high - low || 1);
  return [spec.bars || (spec.fromZero && low >= 0) ? low : low - room, high + room];
}

function ground(u, spec) {
  const art = u.ctx, { left, top, width, height } = u.bbox;
  art.save();
  if (spec.band) {
    const a = u.valToPos(spec.band.high, 'y', true), b = u.valToPos(spec.band.low, 'y', true);
    art.fillStyle = colour('--band');
    art.fillRect(left, Math.max(top, a), width, Math.min(top + height, b) - Math.max(top, a));
  }
  art.restore();
}

// On a lining of paper, so that a line behind it does not strike it through.
function written(art, text, x, y, ratio) {
  art.save();
  art.setLineDash([]); art.lineJoin = 'round'; art.lineWidth = 4 * ratio; art.strokeStyle = colour('--sheet');
  art.strokeText(text, x, y);
  art.restore();
  art.fillText(text, x, y);
}

function levels(u, spec) {
  const art = u.ctx, { left, top, width, height } = u.bbox, ratio = u.pxRatio ?? devicePixelRatio;
  art.save();
  art.beginPath(); art.rect(left, top, width, height); art.clip();
  art.strokeStyle = art.fillStyle = colour('--ink');
  art.lineWidth = ratio; art.setLineDash([4 * ratio, 4 * ratio]);
  art.font = `${12 * ratio}px "Liberation Sans", sans-serif`; art.textAlign = 'right'; art.textBaseline = 'alphabetic'; // axes leave another
  for (const level of spec.levels) {
    const y = Math.round(u.valToPos(level.at, 'y', true));
    art.beginPath(); art.moveTo(left, y); art.lineTo(left + width, y); art.stroke();
    written(art, level.name, left + width - 6 * ratio, y - 16 * ratio < top ? y + 14 * ratio : y - 4 * ratio, ratio); // below, where it would be cut above
  }
  for (const mark of spec.marks) {
    const x = Math.round(u.valToPos(mark.at, 'x', true));
    art.beginPath(); art.moveTo(x, top); art.lineTo(x, top + height); art.stroke();
    art.textAlign = x > left + width / 2 ? 'right' : 'left';
    written(art, mark.name, x + (x > left + width / 2 ? -6 : 6) * ratio, top + 14 * ratio, ratio);
  }
  art.restore();
}

// Every number of a chart is written here, as the program writes it: a point whatever the browser speaks, and no minus before a zero.
function shown(value, digits) {
  if (value == null) return 'none';
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

function tell(u, entry) {
  const at = u.cursor.idx, spec = entry.spec;
  if (at == null) return;
  const parts = spec.lines.filter(line => line.ys[at] != null).map(({ name, ys, lane }) => lane ? `${name} ${shown(ys[at], lane.digits)} ${lane.unit}` : `${name} ${shown(ys[at], spec.y.digits)}`);
  entry.readout.textContent = `${shown(spec.xs[at], spec.x.digits)} ${spec.x.unit}: ${parts.join(' · ')} ${spec.y.unit}`.trimEnd();
}

function listen(host, entry) {
  entry.watch = new ResizeObserver(() => { const now = charts.get(host); if (now && host.clientWidth > 0) now.plot.setSize({ width: host.clientWidth, height: height(now.spec) }); });
  entry.watch.observe(host);
  host.addEventListener('keydown', event => {
    const now = charts.get(host);
    if (!now) return;
    const { plot, spec } = now, last = spec.xs.length - 1, at = plot.cursor.idx ?? -1;
    const move = { ArrowRight: 1, ArrowLeft: -1, Home: -1e9, End: 1e9 }[event.key];
    if (move !== undefined) {
      plot.setCursor({ left: plot.valToPos(spec.xs[moved(plot, spec.xs, move)], 'x'), top: plot.over.clientHeight / 2 });
    } else if (event.key === '+' || event.key === '-') {
      const { min, max } = plot.scales.x, middle = at >= 0 ? spec.xs[at] : (min + max) / 2, half = (max - min) / 2 * (event.key === '+' ? 0.5 : 2);
      now.isZoomed = true;
      plot.setScale('x', { min: Math.max(spec.xs[0], middle - half), max: Math.min(spec.xs[last], middle + half) });
    } else if (event.key === '0' || event.key === 'Escape') all(host);
    else return;
    event.preventDefault();
  });
}

// To the next reading in view that stands a pixel or more away: an oscillogram has several in one.
function moved(plot, xs, move) {
  const { min, max } = plot.scales.x, first = Math.max(0, xs.findIndex(x => x >= min)), last = Math.max(first, xs.findLastIndex(x => x <= max));
  const at = plot.cursor.idx ?? first - 1, left = to => plot.valToPos(xs[to], 'x');
  let to = at + move;
  while (to > first && to < last && Math.abs(left(to) - left(at)) < 1) to += move;
  return Math.min(last, Math.max(first, to));
}

function again() {
  for (const [host, entry] of charts) {
    const { min, max } = entry.plot.scales.x, isZoomed = entry.isZoomed;
    entry.plot.destroy();
    entry.plot = build(host, entry);
    if (isZoomed) entry.plot.setScale('x', { min, max });
  }
}

matchMedia('(prefers-color-scheme: dark)').addEventListener('change', again);
addEventListener('beforeprint', () => { printing = true; again(); });
addEventListener('afterprint', () => { printing = false; again(); });
