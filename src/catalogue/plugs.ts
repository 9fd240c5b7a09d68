// Plugs and terminals between a feed and the strip: what they carry, and the resistance of one contact.
// Ratings: makers' data sheets of the series named (read: XH, SM, VH; barrel: from memory); screw terminals and clips: common practice, no source, the low end.
// Contact resistances: from memory of makers' data sheets (20 milliohm after tests), rounded up; measure where it matters.

export interface Plug {
  readonly id: string;
  readonly label: string;
  readonly amps: number;
  /** One contact; a feed has two, one in each wire. */
  readonly contactMilliohms: number;
}

export const plugs: readonly Plug[] = [
  { id: 'xh-2.5', label: 'XH plug, 2.5 mm', amps: 3, contactMilliohms: 20 },
  { id: 'sm-2.5', label: 'SM plug, 2.5 mm', amps: 3, contactMilliohms: 20 },
  { id: 'vh-3.96', label: 'VH plug, 3.96 mm', amps: 10, contactMilliohms: 20 },
  { id: 'barrel-2.1', label: 'Barrel plug, 5.5 / 2.1 mm', amps: 5, contactMilliohms: 30 },
  { id: 'screw-5.08', label: 'Screw terminal, 5.08 mm', amps: 10, contactMilliohms: 10 },
  { id: 'clip', label: 'Snap-on clip', amps: 2, contactMilliohms: 50 },
];

/** A plug's rating; what is soldered has none of its own. */
export const plugAmps = (plug: Plug | undefined): number => plug?.amps ?? Number.POSITIVE_INFINITY;
