// Wires as they are offered: gauge and area beside each other, since shops sell by the one or the other. Pure.
import { awgAreaMm2, type Wire, wires } from '../../../catalogue/index.ts';
import type { Choice } from '../../fields/index.ts';

const gaugeOf = (id: string): number | undefined =>
  id.startsWith('AWG') ? Number(id.slice('AWG '.length)) : undefined;
const gauges = wires.flatMap(({ id }) => gaugeOf(id) ?? []);

/** The gauge whose area comes nearest to this one, as a ratio. */
export const nearestGauge = (areaMm2: number): number =>
  gauges.reduce((best, gauge) => {
    const off = (one: number) => Math.abs(Math.log(awgAreaMm2(one) / areaMm2));
    return off(gauge) < off(best) ? gauge : best;
  });

/** "AWG 18, 0.82 mm²", "0.75 mm², near AWG 18". */
export function wireLabel(id: Wire['id']): string {
  const gauge = gaugeOf(id);
  return gauge === undefined
    ? `${id.replace('mm2', 'mm²')}, near AWG ${nearestGauge(Number.parseFloat(id))}`
    : `${id}, ${awgAreaMm2(gauge).toPrecision(2)} mm²`;
}

export const wireChoices: readonly Choice<string>[] = wires.map(({ id }) => ({ id, label: wireLabel(id) }));

/** In tables, where there is room for one of the two. */
export const wireName = (id: Wire['id']): string => id.replace('mm2', 'mm²');
