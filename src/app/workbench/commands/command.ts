// A command is a row of data: menus, keys and tests read the same rows. One that edits says which edit, and leaves doing it to the workbench,
// so that every command can be held to the same laws. `when` says whether it makes sense now; a command is never run where it doesn't.
import type { Edit } from '../../../project/index.ts';
import type { Viewport } from '../../canvas/viewport.ts';
import type { FileStore } from '../../files/file-store.ts';
import type { Playhead } from '../../playback/playhead.ts';
import type { Selection } from '../selection.ts';
import type { Workbench, WorkbenchState } from '../workbench.ts';

export interface PlannedEdit {
  readonly label: string;
  readonly edit: Edit;
  /** Held keys merge into one step; see history. */
  readonly gesture?: string;
  /** What is chosen afterwards; unchanged where absent. */
  readonly selection?: Selection;
  /** Why nothing can be done, where nothing is. */
  readonly told?: string;
}

export interface CommandContext {
  readonly workbench: Workbench;
  readonly viewport: Viewport;
  readonly files: FileStore;
}

interface CommandBase {
  readonly id: string;
  readonly label: string;
  /** `Mod` is Ctrl, on a Mac Command. The first is shown in menus. */
  readonly keys?: readonly string[];
  /** A key that is held runs it once, not again and again. */
  readonly isOnceAPress?: boolean;
  readonly when?: (state: WorkbenchState) => boolean;
}

export interface EditCommand extends CommandBase {
  /** Called only where `when` holds. */
  readonly plan: (state: WorkbenchState, playhead: Playhead) => PlannedEdit;
}

export interface ActCommand extends CommandBase {
  readonly run: (context: CommandContext) => void | Promise<void>;
}

export type Command = EditCommand | ActCommand;

export const isEdit = (command: Command): command is EditCommand => 'plan' in command;
