// The export of the document as it stands, planned when the page has time; and handing its files to the builder.
import { useDeferredValue, useEffect, useState } from 'react';
import type { ExportPlan } from '../../workshop/index.ts';
import { settledFlashes } from '../survey/flashes.ts';
import { useFlashes } from '../survey/use-flashes.ts';
import { useCommander, useProject, useWorkbench } from '../workbench/context.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { baseName, endingOf, exportPlan, mediaTypes, zipOf } from './exports.ts';
import { fileNameOf, projectExtension } from './file-store.ts';
import { loadSheetWriter, SheetNotLoaded } from './sheet-writer.ts';

/** What writes the build sheet didn't come: the builder is told. Anything else is a fault of ours. */
function tellOrThrow(workbench: Workbench, error: unknown): void {
  if (!(error instanceof SheetNotLoaded)) throw error;
  workbench.set({
    message: {
      title: 'The files can’t be made',
      lines: [
        `What writes the build sheet didn’t come from the server (${error.message}). Save the project, see that the server runs, and reload the page.`,
      ],
    },
  });
}

/** Undefined while it is being planned. */
export function useExport(): ExportPlan | undefined {
  const workbench = useWorkbench();
  const { templates } = workbench.ports;
  const project = useDeferredValue(useProject((one) => one));
  const flashes = useFlashes();
  const findings = flashes.state === 'found' ? flashes.findings : undefined;
  const [plan, setPlan] = useState<ExportPlan>();
  useEffect(() => {
    let wanted = true;
    loadSheetWriter()
      .then((writeSheet) => (wanted ? exportPlan(project, templates, writeSheet, findings) : undefined))
      .then(
        (made) => wanted && setPlan(made),
        (error: unknown) => {
          try {
            tellOrThrow(workbench, error);
          } catch (fault) {
            // React's boundary shows it.
            setPlan(() => {
              throw fault;
            });
          }
        },
      );
    return () => {
      wanted = false;
    };
  }, [project, workbench, templates, findings]);
  return plan;
}

export interface SaveExport {
  readonly one: (path: string) => void;
  /** The files whose paths begin in one of these ways, as a zip; all of them for an empty beginning. */
  readonly zip: (beginnings: readonly string[], ending: string) => void;
}

/** Saves from the document as it is at that moment. */
export function useSaveExport(): SaveExport {
  const { files } = useCommander();
  const workbench = useWorkbench();
  // The report repeats what the flash analysis says, so it is waited for.
  const planned = async () => {
    const [flashes, writeSheet] = await Promise.all([settledFlashes(workbench), loadSheetWriter()]);
    return exportPlan(workbench.project, workbench.ports.templates, writeSheet, flashes);
  };
  const orTell = (done: Promise<void>): void =>
    void done.catch((error: unknown) => tellOrThrow(workbench, error));
  const give = (name: string, bytes: Uint8Array) =>
    files.saveBytes(name, new Uint8Array(bytes), mediaTypes[endingOf(name)] ?? 'application/octet-stream');
  const save = async (path: string) => {
    const bytes = (await planned()).files.get(path);
    if (bytes) await give(baseName(path), bytes);
  };
  const saveZip = async (beginnings: readonly string[], ending: string) => {
    const chosen = [...(await planned()).files].filter(([path]) =>
      beginnings.some((beginning) => path.startsWith(beginning)),
    );
    const name = fileNameOf(workbench.project.name).replace(projectExtension, `${ending}.zip`);
    await give(name, zipOf(new Map(chosen)));
  };
  return {
    one: (path) => orTell(save(path)),
    zip: (beginnings, ending) => orTell(saveZip(beginnings, ending)),
  };
}
