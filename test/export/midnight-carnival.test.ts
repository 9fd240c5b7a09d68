// The sample midnight-carnival on emulated boards; see test/support/sample-on-boards.ts.
import { describeOnBoards } from '../support/sample-on-boards.ts';

describeOnBoards('midnight-carnival');
