// A feed as the page adds it, by tool, fields and keys alike. Not here: what planning proposes (src/power).
import type { Layout } from '../../../panel/index.ts';
import { feedLengthMm, usualFeedWire } from '../../../power/index.ts';
import type { Feed, Project } from '../../../project/index.ts';

/** The usual wire, as long as drawn, and a blade fuse: a feed of which no kind is said counts none when cold. */
export const newFeed = (project: Project, layout: Layout, place: Pick<Feed, 'run' | 'led'>): Feed => ({
  ...place,
  wire: usualFeedWire,
  lengthMm: feedLengthMm(project, layout, place),
  fuseKind: 'blade',
});
