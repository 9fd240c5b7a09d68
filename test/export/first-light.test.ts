// The sample first-light on emulated boards; see test/support/sample-on-boards.ts.
import { describeOnBoards } from '../support/sample-on-boards.ts';

describeOnBoards('first-light');
