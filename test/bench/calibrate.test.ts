import { test } from 'vitest';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';
test('smoke', async () => {
  for (const [n, rows] of [[300, 0], [300, 1], [300, 2], [300, 3], [300, 4], [300, 6], [480, 4]] as const) {
    const p = loadProject(n, rows);
    const f = await profile(p, 12, 50);
    const worst = f.reduce((a, b) => (a.total > b.total ? a : b));
    console.log(n, rows, f.length, 'fps', (16e6 / worst.total).toFixed(1), worst.total, 'predicted', [...predictSpeed(p, layOut(p)).slowestFrameCycles.values()], Object.entries(worst.byPart).map(([k, v]) => `${k} ${v} (${(v/n).toFixed(1)})`).join(', '));
  }
});
