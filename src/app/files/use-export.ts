// The export of the document as it stands, planned when the page has time; and handing its files to the builder.
import { useDeferredValue, useEffect, useState } from 'react';
import type { ExportPlan } from '../../workshop/index.ts';
import { settledFlashes } from '../survey/flashes.ts';
import { useFlashes } from '../survey/use-flashes.ts';
import { useCommander, useProject, useWorkbench } from '../workbench/context.ts';
import { baseName, endingOf, exportPlan, mediaTypes, zipOf } from './exports.ts';
import { fileNameOf, projectExtension } from './file-store.ts';

/** Undefined while it is being planned. */
export function useExport(): ExportPlan | undefined {
  const { ports } = useWorkbench();
  const project = useDeferredValue(useProject((one) => one));
  const flashes = useFlashes();
  const findings = flashes.state === 'found' ? flashes.findings : undefined;
  const [plan, setPlan] = useState<ExportPlan>();
  useEffect(() => {
    let wanted = true;
    exportPlan(project, ports.templates, findings).then(
      (made) => wanted && setPlan(made),
      (error: unknown) =>
        setPlan(() => {
          throw error;
        }),
    );
    return () => {
      wanted = false;
    };
  }, [project, ports, findings]);
  return plan;
}

export interface SaveExport {
  readonly one: (path: string) => void;
  /** The files whose paths begin so, as a zip; all of them for an empty beginning. */
  readonly zip: (beginning: string, ending: string) => void;
}

/** Saves from the document as it is at that moment. */
export function useSaveExport(): SaveExport {
  const { files } = useCommander();
  const workbench = useWorkbench();
  // The report repeats what the flash analysis says, so it is waited for.
  const planned = async () => {
    const flashes = await settledFlashes(workbench);
    return exportPlan(workbench.project, workbench.ports.templates, flashes);
  };
  const give = (name: string, bytes: Uint8Array) =>
    files.saveBytes(name, new Uint8Array(bytes), mediaTypes[endingOf(name)] ?? 'application/octet-stream');
  const save = async (path: string) => {
    const bytes = (await planned()).files.get(path);
    if (bytes) await give(baseName(path), bytes);
  };
  const saveZip = async (beginning: string, ending: string) => {
    const chosen = [...(await planned()).files].filter(([path]) => path.startsWith(beginning));
    const name = fileNameOf(workbench.project.name).replace(projectExtension, `${ending}.zip`);
    await give(name, zipOf(new Map(chosen)));
  };
  return {
    one: (path) => void save(path),
    zip: (beginning, ending) => void saveZip(beginning, ending),
  };
}
