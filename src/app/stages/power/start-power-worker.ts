// Starts the worker that plays shows for their power.
export const startPowerWorker = () =>
  new Worker(new URL('../../survey/power-worker.ts', import.meta.url), { type: 'module' });
