// The backing as a drawing for a laser or a router: SVG in true millimetres, seen from the front. Same project, same bytes.
// Colours say what the tool does, as laser programs sort by them: red cuts through, black engraves, blue is for the eye only.
// Not here: where channels lie (channels.ts).
import type { Layout, PointMm } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { type Channel, channelDepthMm, channels, overlaps, panelOutline, rectangle } from './channels.ts';

const cutThrough = '#ff0000';
const engrave = '#000000';
const eyeOnly = '#0000ff';
/** Thin enough to be taken for a path to follow, wide enough to be seen. */
const strokeMm = 0.1;
const tallestNumberMm = 6;

/** At most three decimals: a thousandth of a millimetre. */
const mm = (value: number): string => String(Math.round(value * 1000) / 1000 + 0);

// What XML 1.0 doesn't allow even when escaped, unpaired surrogates among it.
const unwritable = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;
const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
const escaped = (text: string): string =>
  text.replace(unwritable, '\ufffd').replace(/[&<>"']/g, (character) => entities[character]!);

const closedPaths = (outlines: readonly (readonly PointMm[])[], attributes = ''): string =>
  `<path${attributes} d="${outlines.map((points) => `M${points.map((p) => `${mm(p.xMm)} ${mm(p.yMm)}`).join('L')}Z`).join('')}"/>`;
const closedPath = (points: readonly PointMm[]): string => closedPaths([points]);

const group = (id: string, attributes: string, lines: readonly string[]): string[] =>
  lines.length === 0 ? [] : [`<g id="${id}" ${attributes}>`, ...lines, '</g>'];

const lines = (colour: string, more = ''): string =>
  `fill="none" stroke="${colour}" stroke-width="${mm(strokeMm)}"${more}`;

/** Upright and inside its channel, on a line that leaves as much above the digits as below. */
function numberText({ number, middle, widthMm }: Channel): string {
  const size = Math.min(tallestNumberMm, widthMm * 0.6);
  // Digits are about 0.72 of the type's size high (common practice, no source).
  return `<text x="${mm(middle.xMm)}" y="${mm(middle.yMm + 0.36 * size)}" font-size="${mm(size)}">${number}</text>`;
}

const barLengthMm = 100;
const barHeightMm = 3;
/** From the bar to anything that the tool follows. */
const barMarginMm = 3;
const barStepMm = 5;

/** A bar to measure on the print, at the lowest, then leftmost free place of the panel; nothing where there is none. */
function checkBar(project: Project, taken: readonly Channel[]): string[] {
  const { widthMm, heightMm } = project.panel;
  const room = { widthMm: barLengthMm + 2 * barMarginMm, heightMm: barHeightMm + 2 * barMarginMm };
  for (let top = heightMm - room.heightMm; top >= 0; top -= barStepMm)
    for (let left = 0; left + room.widthMm <= widthMm; left += barStepMm) {
      const needed = rectangle(left, top, room.widthMm, room.heightMm);
      if (taken.some((channel) => overlaps(needed, channel.corners))) continue;
      const bar = rectangle(left + barMarginMm, top + barMarginMm, barLengthMm, barHeightMm);
      return group('check-bar', lines(eyeOnly), [closedPath(bar)]);
    }
  return [];
}

/** The backing's drawing. Groups: `outline`, `channels`, `numbers` and, where there are such, `opening` and `check-bar`. */
export function backingSvg(project: Project, layout: Layout): string {
  const { widthMm, heightMm, opening } = project.panel;
  const all = channels(layout);
  const size = `${mm(widthMm)} x ${mm(heightMm)} mm`;
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(widthMm)}mm" height="${mm(heightMm)}mm" viewBox="0 0 ${mm(widthMm)} ${mm(heightMm)}">`,
    `<title>${escaped(project.name)}: backing</title>`,
    `<desc>Seen from the front, ${size}: measure it, or the bar of ${barLengthMm} mm where there is one, before you cut. Red: cut through. Black: channels ${mm(channelDepthMm)} mm deep, and their numbers. Blue: not for the tool.</desc>`,
    ...group('outline', lines(cutThrough), [closedPath(panelOutline(project))]),
    ...group(
      'opening',
      lines(eyeOnly, ' stroke-dasharray="4 2"'),
      opening ? [closedPath(rectangle(opening.xMm, opening.yMm, opening.widthMm, opening.heightMm))] : [],
    ),
    ...group(
      'channels',
      lines(engrave),
      all.map(({ corners, island, run }) =>
        closedPaths([corners, ...(island ? [island] : [])], ` id="channel-${run}"`),
      ),
    ),
    ...group(
      'numbers',
      `fill="${engrave}" stroke="none" font-family="sans-serif" text-anchor="middle"`,
      all.map(numberText),
    ),
    ...checkBar(project, all),
    '</svg>',
    '',
  ].join('\n');
}
