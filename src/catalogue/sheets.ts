// Diffuser sheets: share of light that passes, and how far the sheet itself spreads it on the way.
// Not here: the artwork's own transmission, and light that bounces back into the box.
// Sources: transmission of the first three: makers' sales sheets; all other figures: common practice, no source. Haze on data sheets does
// not say how far light spreads, so a spread is about half of an opal sheet's thickness; a builder with a sample knows better.
export interface Sheet {
  readonly id: string;
  readonly label: string;
  readonly transmission: number;
  readonly thicknessMm: number;
  /** A point of light comes through as a Gaussian spot; this is its standard deviation. */
  readonly spreadMm: number;
}

export const sheets: readonly Sheet[] = [
  {
    id: 'opal-pmma',
    label: 'Opal acrylic for LEDs',
    transmission: 0.87,
    thicknessMm: 3,
    spreadMm: 1.5,
  },
  {
    id: 'opal-pc',
    label: 'Opal polycarbonate for LEDs',
    transmission: 0.8,
    thicknessMm: 2,
    spreadMm: 1,
  },
  { id: 'opal-ps', label: 'Opal polystyrene', transmission: 0.7, thicknessMm: 2, spreadMm: 1 },
  {
    id: 'sign-acrylic',
    label: 'Opal sign acrylic, 3 mm',
    transmission: 0.45,
    thicknessMm: 3,
    spreadMm: 1.5,
  },
  { id: 'drafting-film', label: 'Drafting film', transmission: 0.6, thicknessMm: 0.1, spreadMm: 0.3 },
];
