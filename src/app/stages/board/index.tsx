// The stage Board: what the shows need of the microcontroller, which pins carry data, and the program to take away.
import type { StageParts } from '../stage-parts.ts';
import { BoardPage } from './board-page.tsx';

export const boardStage: StageParts = { Main: BoardPage };
