// The scale of the view Volts is read without telling red from green. How colours look to people with dichromacy: Machado, Oliveira and Fernandes,
// "A physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15(6), 2009, severity 1.0, in linear light (from memory).
// Lightness: CIE L*, by chroma-js.
import chroma from 'chroma-js';
import { describe, expect, test } from 'vitest';
import { voltColour, voltColoursOf } from '../../src/app/canvas/volt-colours.ts';
import { assessPower } from '../../src/power/index.ts';
import { buildPanel, reel } from '../power/build-project.ts';

const sights = {
  usual: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  protanopia: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deuteranopia: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritanopia: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
} as const;

function lightness(colour: string, matrix: readonly number[]): number {
  const [, ...parts] = /^rgb\((\d+) (\d+) (\d+)\)$/.exec(colour)!.map(Number) as number[];
  const linear = parts.map((code) =>
    code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4,
  );
  const seen = [0, 1, 2].map((row) => {
    const value = linear.reduce((sum, channel, i) => sum + matrix[3 * row + i]! * channel, 0);
    const held = Math.min(1, Math.max(0, value));
    return 255 * (held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055);
  });
  return chroma.rgb(seen[0]!, seen[1]!, seen[2]!).lab()[0];
}

describe('the colours of the view Volts', () => {
  test.each(Object.entries(sights))(
    'rise in lightness from the floor to the supply, for %s sight',
    (_, matrix) => {
      const steps = Array.from({ length: 21 }, (_, i) => lightness(voltColour(i / 20), matrix));
      for (const [i, step] of steps.entries()) if (i > 0) expect(step).toBeGreaterThan(steps[i - 1]! + 0.5);
      // A fifth of the scale is told apart at a glance.
      for (const i of [4, 8, 12, 16, 20]) expect(steps[i]! - steps[i - 4]!).toBeGreaterThan(5);
      expect(steps[20]! - steps[0]!).toBeGreaterThan(60);
    },
  );

  test('are the same below the floor and above the supply as at these', () => {
    expect(voltColour(-3)).toBe(voltColour(0));
    expect(voltColour(7)).toBe(voltColour(1));
  });

  test('are a shape too where an LED gets less than its floor, by its number on its own run', () => {
    // 40 LEDs of 36 mA over thin rails, fed at DIN.
    const { project, layout } = buildPanel({
      reel: { railOhmPerMetre: 1 },
      lines: [[{ leds: 40 }]],
      feeds: [{ run: 'r0', led: 0, wire: 'AWG 10', lengthMm: 10 }],
    });
    const assessment = assessPower(project, layout);
    const { low, colours } = voltColoursOf(assessment);
    const below = assessment.panel.leds.flatMap(({ led }, i) =>
      assessment.worst.ledVolts[i]! < reel.floorVolts ? [led] : [],
    );
    expect(below.length).toBeGreaterThan(5);
    expect(low.get('r0')).toEqual(below);
    expect(colours.get('r0')).toHaveLength(40);
    expect(new Set(below.map((led) => colours.get('r0')![led]))).toEqual(new Set([voltColour(0)]));
  });
});
