// Keeping a feed where it is and letting none in there exclude each other: choosing the one takes the other back. Pure.
import { inSequence } from '../../../panel/index.ts';
import { changeFeed, type Edit, type Project, setForbidden } from '../../../project/index.ts';

type Place = { readonly run: string; readonly led: number };

export const isForbidden = ({ power }: Pick<Project, 'power'>, { run, led }: Place): boolean =>
  power.planning?.forbidden?.some((one) => one.run === run && one.led === led) ?? false;

export const forbid = ({ power }: Pick<Project, 'power'>, { run, led }: Place, forbids: boolean): Edit =>
  inSequence([
    setForbidden(run, led, forbids),
    ...power.feeds.flatMap((feed, index) =>
      forbids && feed.isKept && feed.run === run && feed.led === led
        ? [changeFeed(index, { isKept: undefined })]
        : [],
    ),
  ]);

export function keep(project: Pick<Project, 'power'>, index: number, keeps: boolean): Edit {
  const { run, led } = project.power.feeds[index]!;
  const kept = changeFeed(index, { isKept: keeps ? true : undefined });
  return keeps && isForbidden(project, { run, led })
    ? inSequence([kept, setForbidden(run, led, false)])
    : kept;
}
