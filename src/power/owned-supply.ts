// The reverse question: a supply is there already; what may the panel draw from it? Either the player's limiter holds every frame to a budget, or the
// brightness is set so low that even full white needs none. Not here: what shows lose by the limiter (limiter-loss.ts).
import { supplyLoadShare } from '../catalogue/index.ts';
import type { Project } from '../project/index.ts';
import { controllerAmps } from './controller.ts';
import { darkAmps, totalAmps, whiteAmps, wireAmps } from './load-cases.ts';
import type { PanelNetwork } from './panel-network.ts';
import { settled } from './sizing.ts';

export interface OwnedSupply {
  readonly ratedAmps: number;
  /** 80 % of the rating, less the board and the LEDs that the limiter doesn't count. */
  readonly forWireAmps: number;
  /** The largest limit that it carries, hundredths of an ampere, rounded down; undefined where the chips alone, dark, draw more. */
  readonly limitAmps: number | undefined;
  /**
   * The greatest brightness, whole percent, at which full white needs no limiter; undefined where even 1 % is too much. 100: it carries full white as
   * it is.
   */
  readonly brightnessPercent: number | undefined;
  /** What full white then draws, with the board. */
  readonly whiteAmps: number | undefined;
  /** Whether it carries the board and all LEDs dark at all. */
  readonly carriesDark: boolean;
}

/** What of full current the player sends for white at a brightness: 8 bits, so some percents come out a little brighter than they say (rules O-4, O-9 of the player). */
const sentShare = (percent: number): number => {
  const scale = Math.round((255 * percent) / 100);
  return Math.floor((255 * (scale + 1)) / 256) / 255;
};

/**
 * What the panel may draw from one supply that feeds it all and the board.
 * I = N (quiescent + cap x channels), LED by LED; the cap counts as the percent that it says or as what the player makes of it, whichever is more.
 * @param ratedAmps > 0
 */
export function ownedSupply(
  project: Pick<Project, 'power'>,
  panel: PanelNetwork,
  ratedAmps: number,
): OwnedSupply {
  const dark = darkAmps(panel);
  const white = whiteAmps(panel);
  const quiescent = wireAmps(panel, dark);
  const channels = wireAmps(panel, white) - quiescent;
  const offWire = totalAmps(dark) - quiescent;
  const board = controllerAmps(project);
  const forWireAmps = settled(ratedAmps * supplyLoadShare - board - offWire);
  const carriesDark = forWireAmps >= settled(quiescent);
  const drawn = (percent: number): number =>
    settled(quiescent + Math.max(percent / 100, sentShare(percent)) * channels);
  let brightnessPercent = 100;
  while (brightnessPercent > 0 && drawn(brightnessPercent) > forWireAmps) brightnessPercent--;
  const isLit = carriesDark && brightnessPercent > 0;
  // The LEDs' own current and not a hundredth more would light nothing.
  const limitAmps = Math.floor(settled(forWireAmps * 100)) / 100;
  return {
    ratedAmps,
    forWireAmps,
    limitAmps: carriesDark && limitAmps > quiescent ? limitAmps : undefined,
    brightnessPercent: isLit ? brightnessPercent : undefined,
    whiteAmps: isLit ? settled(drawn(brightnessPercent) + offWire + board) : undefined,
    carriesDark,
  };
}
