// The seed of a random campaign: fixed, so that a run can be repeated; LAMPLOOM_SEED, which `npm run soak` sets, moves all of them on.
const moved = Number(process.env['LAMPLOOM_SEED'] ?? 0);
if (!Number.isInteger(moved)) throw new Error('LAMPLOOM_SEED must be a whole number');

export const seedOf = (usual: number): number => usual + moved;
