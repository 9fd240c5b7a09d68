// Diffuser sheets: share of light that passes. Sources: first three: makers' sales sheets; the others: common practice, no source.
export interface Sheet {
  readonly id: string;
  readonly label: string;
  readonly transmission: number;
}

export const sheets: readonly Sheet[] = [
  { id: 'opal-pmma', label: 'Opal acrylic for LEDs', transmission: 0.87 },
  { id: 'opal-pc', label: 'Opal polycarbonate for LEDs', transmission: 0.8 },
  { id: 'opal-ps', label: 'Opal polystyrene', transmission: 0.7 },
  { id: 'sign-acrylic', label: 'Opal sign acrylic, 3 mm', transmission: 0.45 },
  { id: 'drafting-film', label: 'Drafting film', transmission: 0.6 },
];
