// Supplies: sizes of enclosed ones, how far they may be loaded, and what they lose.
/** Amperes by output voltage, as one maker's popular series has them (from memory: check before buying). */
export const supplyAmps: Readonly<Record<'5' | '12', readonly number[]>> = {
  '5': [10, 14, 18, 40, 60],
  '12': [4.2, 6, 8.5, 12.5, 17, 29],
};

/** Half way between the two output voltages. */
const betweenVolts = 8.5;

/** Which of the two kinds a supply is, whatever its trimmer is set to. */
export const supplyKind = (volts: number): '5' | '12' => (volts < betweenVolts ? '5' : '12');

/** A supply should run at no more than 80 % of its rating (common practice, no source). */
export const supplyLoadShare = 0.8;

/** What leaves a supply of what it takes from the mains (common practice, no source). */
export const supplyEfficiency = 0.85;
