// Opens a project for the screen: reads and checks it, loads the player and the artwork, and derives all that doesn't change while it plays.
// Whatever stands in the way comes back as problems in words; nothing is thrown for bad input.
import { type Examination, examine } from '../../board/index.ts';
import { Player } from '../../lampshow/index.ts';
import { assessPower, type PowerAssessment, type PowerReport, powerReport } from '../../power/index.ts';
import {
  failed,
  type Lampshow,
  ok,
  type Problem,
  type Project,
  type Result,
  readProject,
} from '../../project/index.ts';
import { firmwareTemplates } from './firmware-templates.ts';

export interface OpenedProject {
  readonly project: Project;
  readonly examination: Examination;
  readonly assessment: PowerAssessment;
  readonly power: PowerReport;
  /** Undefined in a project without artwork. */
  readonly artwork: HTMLImageElement | undefined;
  /** What the wire carries; dark where the shows are too large for any player. Valid until the next call. */
  readonly wireBytes: (show: string, frame: number) => Uint8Array;
}

/** A file that belongs to the page didn't arrive as it should. */
const notLoaded = (at: string, expected: string, found: string): Result<never> =>
  failed([
    {
      code: 'not-loaded',
      at,
      expected,
      found,
      mend: 'Reload the page. If that does not help, stop the server and run npm start again.',
    },
  ]);

async function fetched(url: string, what: string): Promise<Result<Response>> {
  try {
    const response = await fetch(url);
    return response.ok
      ? ok(response)
      : notLoaded(what, 'the file from the server', `status ${response.status}`);
  } catch {
    return notLoaded(what, 'the file from the server', 'no answer');
  }
}

async function loadPlayer(url: string): Promise<Result<Player>> {
  const response = await fetched(url, 'the player');
  if (!response.ok) return response;
  try {
    return ok(await Player.load(await response.value.arrayBuffer()));
  } catch {
    return notLoaded('the player', 'a WebAssembly program', 'something else');
  }
}

function bytesOf(base64: string): Uint8Array<ArrayBuffer> | undefined {
  try {
    return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
  } catch {
    return undefined;
  }
}

async function loadArtwork({ panel }: Project): Promise<Result<HTMLImageElement | undefined>> {
  if (!panel.artwork) return ok(undefined);
  const unreadable: Problem = {
    code: 'artwork-unreadable',
    at: '/panel/artwork',
    expected: `an image of type ${panel.artwork.mediaType}`,
    found: 'data that no image can be made from',
    mend: 'Put the artwork into the project again.',
  };
  const bytes = bytesOf(panel.artwork.base64);
  if (!bytes) return failed([unreadable]);
  const url = URL.createObjectURL(new Blob([bytes], { type: panel.artwork.mediaType }));
  const image = new Image();
  image.src = url;
  try {
    await image.decode();
    return ok(image);
  } catch {
    return failed([unreadable]);
  } finally {
    URL.revokeObjectURL(url);
  }
}

export async function openProject(urls: {
  readonly project: string;
  readonly player: string;
}): Promise<Result<OpenedProject>> {
  const [file, player] = await Promise.all([
    fetched(urls.project, 'the project file'),
    loadPlayer(urls.player),
  ]);
  if (!file.ok) return file;
  if (!player.ok) return player;
  const read = readProject(await file.value.text());
  if (!read.ok) return read;
  const artwork = await loadArtwork(read.value);
  if (!artwork.ok) return artwork;
  const project = read.value;
  const examination = examine(project, firmwareTemplates);
  const { showData, layout } = examination;
  if (showData) player.value.setShowData(showData);
  const dark = new Uint8Array(3 * layout.wireLeds.length);
  const assessment = assessPower(project, layout);
  return ok({
    project,
    examination,
    assessment,
    power: powerReport(project, layout, undefined, assessment),
    artwork: artwork.value,
    wireBytes: (show, frame) => (showData ? player.value.frame(show, frame) : dark),
  });
}

/** Frames of one pass of a show; as many as the command line writes. */
export const framesOfShow = (show: Pick<Lampshow, 'lengthMs'>, frameMs: number): number =>
  Math.ceil(show.lengthMs / frameMs);

export const showName = (show: Pick<Lampshow, 'id' | 'name'>): string => show.name ?? show.id;
