// What to give up where the shows don't fit the board's flash: which clips free most, exactly, by compiling the shows without each.
// Not here: that they don't fit (budget.ts).
import { compileShowData, effectMap, mappedLeds, packFrames, type ShowData } from '../lampshow/index.ts';
import { areaLeds, type Layout } from '../panel/index.ts';
import { type Clip, type Project, pointer } from '../project/index.ts';

export interface FreedBytes {
  /** JSON pointer of the clip. */
  readonly at: string;
  readonly show: string;
  readonly row: string;
  readonly effect: Clip['effect']['kind'];
  readonly bytes: number;
}

/** So many clips that look large are tried; each takes as long as compiling the shows. */
const mostTried = 24;

interface Place {
  readonly show: number;
  readonly row: number;
  readonly clip: number;
}

function withoutClip(project: Project, place: Place): Project {
  const lampshows = project.lampshows.map((show, s) =>
    s !== place.show
      ? show
      : {
          ...show,
          rows: show.rows.map((row, r) =>
            r !== place.row ? row : { ...row, clips: row.clips.filter((_, c) => c !== place.clip) },
          ),
        },
  );
  return { ...project, lampshows };
}

/** About how many bytes a clip has for itself, if it shares nothing. */
function roughBytes(clip: Clip, project: Project, layout: Layout): number {
  const leds = mappedLeds(areaLeds(layout, project.areas.find(({ id }) => id === clip.area)!));
  if (leds.length === 0) return 0;
  const cells =
    clip.effect.kind === 'painted'
      ? packFrames(clip.effect, leds).entries.reduce((sum, entry) => sum + entry.cells.length, 0)
      : 0;
  return effectMap(clip.effect, leds).length + cells;
}

function freedBytes(project: Project, place: Place, bytes: number): FreedBytes {
  const show = project.lampshows[place.show]!;
  const row = show.rows[place.row]!;
  return {
    at: pointer('lampshows', place.show, 'rows', place.row, 'clips', place.clip),
    show: show.id,
    row: row.id,
    effect: row.clips[place.clip]!.effect.kind,
    bytes,
  };
}

interface Candidate {
  readonly place: Place;
  readonly roughBytes: number;
}

/** The clips that look largest, the greatest first. */
function largestClips(project: Project, layout: Layout): Candidate[] {
  return project.lampshows
    .flatMap((show, s) =>
      show.rows.flatMap((row, r) =>
        row.clips.map((clip, c) => ({
          place: { show: s, row: r, clip: c },
          roughBytes: roughBytes(clip, project, layout),
        })),
      ),
    )
    .sort((a, b) => b.roughBytes - a.roughBytes)
    .slice(0, mostTried);
}

/** The clips whose absence frees most, the greatest first; what they share with others isn't freed. */
export function clipsToGiveUp(project: Project, layout: Layout, data: ShowData): FreedBytes[] {
  return largestClips(project, layout)
    .map(({ place }) => {
      const without = compileShowData(withoutClip(project, place), layout, { frameMs: data.frameMs });
      return freedBytes(project, place, data.tableBytes - (without?.tableBytes ?? data.tableBytes));
    })
    .filter(({ bytes }) => bytes > 0)
    .sort((a, b) => b.bytes - a.bytes);
}

const mostNamed = 5;

const sentence = (clips: readonly FreedBytes[], about: string): string => {
  const named = clips
    .slice(0, mostNamed)
    .map(({ effect, show, row, bytes }) => `${effect} in row "${row}" of "${show}" (${about}${bytes} bytes)`);
  return named.length === 0 ? '' : `These clips free most: ${named.join(', ')}.`;
};

/** One sentence: the clips that free most, with their bytes; about their bytes where the shows are too large to be compiled. Empty without clips. */
export function giveUpSentence(project: Project, layout: Layout, data: ShowData | undefined): string {
  if (data) return sentence(clipsToGiveUp(project, layout, data), '');
  const largest = largestClips(project, layout).map(({ place, roughBytes }) =>
    freedBytes(project, place, roughBytes),
  );
  return sentence(largest, 'about ');
}
