// Runs commands, by id or by key. Knows which controls keep which keys for themselves. No React, no document of the browser's.
import { playheadOf } from '../playback/playhead.ts';
import { type Command, type CommandContext, commands, isEdit } from './commands/index.ts';
import { worksInRoom } from './commands/room-commands.ts';

export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
  /** The key is held and comes again by itself. */
  readonly repeat?: boolean;
  /** Whether the place that has the focus lies in something that matches. */
  readonly isWithin: (selector: string) => boolean;
}

/** Controls that use keys themselves, and which. A key pressed with Ctrl or Command is kept by text fields only where they know it. */
const keepers: readonly {
  readonly selector: string;
  readonly keeps: (stroke: string, key: string) => boolean;
}[] = [
  {
    selector: 'input:not([type="range"]):not([type="radio"]):not([type="checkbox"]), textarea',
    keeps: (stroke) => !stroke.startsWith('Mod+') || /^Mod\+[AXCV]$/.test(stroke),
  },
  {
    // Where something was typed, undo is the field's own; where nothing was, it is the document's.
    selector:
      'input:not([type="range"], [type="radio"], [type="checkbox"], [data-unchanged="true"]), textarea',
    keeps: (stroke) => /^Mod\+(Shift\+)?[ZY]$/.test(stroke),
  },
  { selector: 'select', keeps: (stroke) => !stroke.includes('+') },
  {
    selector: 'button, a[href], summary, [role="option"], input[type="checkbox"], input[type="radio"]',
    keeps: (_, key) => key === 'Space' || key === 'Enter',
  },
  {
    selector: 'input[type="range"], [role="radiogroup"], fieldset, [role="tablist"]',
    keeps: (_, key) => key.startsWith('Arrow'),
  },
  { selector: '[role="menu"], [role="dialog"], [role="alertdialog"]', keeps: () => true },
];

const keyNames: Readonly<Record<string, string>> = { ' ': 'Space' };

/** Keys that stand for a sign are what the sign is, Shift or not. */
const isSign = (key: string): boolean => key.length === 1 && key.toUpperCase() === key.toLowerCase();

/** `Mod+Shift+Z` */
export function strokeOf({ key, ctrlKey, metaKey, altKey, shiftKey }: KeyPress): string {
  const name = keyNames[key] ?? (key.length === 1 ? key.toUpperCase() : key);
  const shift = shiftKey && !isSign(key) ? 'Shift+' : '';
  return `${ctrlKey || metaKey ? 'Mod+' : ''}${altKey ? 'Alt+' : ''}${shift}${name}`;
}

export class Commander {
  private readonly context: CommandContext;

  constructor(context: CommandContext) {
    this.context = context;
  }

  get viewport(): CommandContext['viewport'] {
    return this.context.viewport;
  }

  get files(): CommandContext['files'] {
    return this.context.files;
  }

  isReady(command: Command): boolean {
    return command.when?.(this.context.workbench.state) ?? true;
  }

  /** Runs a command by its id; nothing happens where it makes no sense now. */
  run(id: string): void {
    const command = commands.find((one) => one.id === id);
    if (!command) throw new Error(`no command "${id}"`);
    if (this.isReady(command)) this.perform(command);
  }

  /** Whether the key was used. */
  onKey(press: KeyPress): boolean {
    // Whoever drags hears of Escape himself.
    if (this.context.workbench.isPointerHeld) return true;
    const stroke = strokeOf(press);
    const key = stroke.slice(stroke.lastIndexOf('+', stroke.length - 2) + 1);
    if (keepers.some(({ selector, keeps }) => keeps(stroke, key) && press.isWithin(selector))) return false;
    const { isStanding } = this.context.workbench.state.viewer;
    const command = commands.find(
      (one) => one.keys?.includes(stroke) && this.isReady(one) && (!isStanding || worksInRoom(one.id)),
    );
    if (!command) return false;
    if (!(press.repeat && command.isOnceAPress)) this.perform(command);
    return true;
  }

  private perform(command: Command): void {
    const { workbench } = this.context;
    if (!isEdit(command)) {
      // A rejected promise is a fault of ours: it reaches the page's own handler.
      void command.run(this.context);
      return;
    }
    const { state, playback, project } = workbench;
    const playhead = playheadOf(playback, project, state.settled.frameMs);
    const { label, edit, gesture, selection, told } = command.plan(state, playhead);
    workbench.edit(label, edit, gesture);
    if (selection) workbench.select(selection);
    if (told !== undefined) workbench.set({ message: { title: command.label, lines: [told] } });
  }
}
