// The samples that come with the page, by the addresses that the bundle gives them.
import deepSea from '../../../samples/deep-sea.lamploom.json?url';
import firstLight from '../../../samples/first-light.lamploom.json?url';
import midnightCarnival from '../../../samples/midnight-carnival.lamploom.json?url';

export interface SampleRow {
  readonly id: string;
  readonly label: string;
  readonly url: string;
}

export const sampleRows: readonly SampleRow[] = [
  { id: 'midnight-carnival', label: 'Midnight Carnival, 284 LEDs', url: midnightCarnival },
  { id: 'first-light', label: 'First Light, 62 LEDs', url: firstLight },
  { id: 'deep-sea', label: 'Deep Sea, 432 LEDs', url: deepSea },
];
