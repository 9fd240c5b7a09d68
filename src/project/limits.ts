// Limits of a project file. Every limit says why it is there; test/project/limits.test.ts tries both sides of each.

export const limits = {
  /** Largest backbox board we know has 8 KB of SRAM, room for about 2,500 LEDs of 3 bytes; and one 800 kbit/s line takes 60 ms for 2,000. */
  leds: 2000,
  /** One run is one cut piece: a 5 m reel of the densest strip (144 per m) holds 720 LEDs. */
  ledsPerRun: 720,
  /** More cut pieces than anyone solders into one backbox; and a line counts its stretches of like strip in one byte. */
  runs: 255,
  /** An ATmega2560 has pins for more, but each line needs its own resistor, connector and feed. */
  dataLines: 8,
  /** Area numbers are one byte in the show data. */
  areas: 255,
  /** Gradient numbers are one byte in the show data. */
  gradients: 255,
  /** A gradient is drawn into a table of 64 colours, so more stops could not be told apart. */
  stopsPerGradient: 32,
  /** Show numbers are one byte in the show data; a game has a few dozen events. */
  lampshows: 64,
  /** Each row is another pass over its LEDs: 16 rows of the usual effects over 300 LEDs leave the slowest board under 20 frames/s. */
  rowsPerShow: 16,
  /** 41 bytes of flash a clip: 512 are 21 KB, more than the player leaves on a small board. */
  clipsPerShow: 512,
  /** 41 bytes of flash a clip: 1,000 fill a small board's flash all by themselves. */
  clips: 1000,
  /** More than anyone draws by hand over one clip; the player reads them one after the other. */
  envelopePoints: 16,
  /** Two a second through ten minutes; a show for a longer piece of music takes its beats from a part of it. */
  beatsPerShow: 1200,
  /** More names than a ruler can show. */
  markersPerShow: 100,
  /** A handful of tries each of a few dozen events. */
  pressLogs: 32,
  /** Ten minutes of a busy game. */
  pressesPerLog: 500,
  /** A wall along each row and column of a dense grid, and as many again. */
  baffles: 200,
  /** Show times are 32-bit milliseconds; an hour keeps the phase error of an effect under a ninth of a turn. */
  showMs: 3_600_000,
  /** A backbox panel is under 1 m; 3 m allows for signs and leaves positions exact to a hundredth of a mm. */
  panelMm: 3000,
  /** One for each feed of a large panel would be a wiring of its own; nobody fits nine supplies into a backbox. */
  moreSupplies: 7,
  /** Screws, speakers, displays and cable holes of one backbox are a few dozen. */
  keepOuts: 200,
  /** One scale and a check of each edge and diagonal; more says nothing new. */
  measures: 16,
  /** More lines than anyone can tell apart. */
  guides: 100,
  /** A drawn line is thinned until it needs no more; one drag then costs at most this many comparisons an LED. */
  outlinePoints: 400,
  /** A channel's outline with rounded ends, flattened to a hundredth of a mm, has about 100. */
  channelPoints: 400,
  /** A 300 dpi print of 700 x 500 mm as a good JPEG is about 8 MB; the browser's store and undo must hold it. */
  imageBytes: 8 * 1024 * 1024,
  /** The image in base64 (4/3) and as much again for everything else, read at once. */
  fileBytes: 20 * 1024 * 1024,
  /** The schema's own depth is 9; a deeper file isn't a project and could exhaust the reader's memory. */
  nesting: 32,
  /** More values than a project at all limits above has (a clip has 14, a run 12); stops files that are all brackets. */
  values: 400_000,
  /** One frame may last this long; under 8 frames/s nothing looks like movement, and from 131 ms on the board can't tell late from early. */
  frameMs: 120,
} as const;
