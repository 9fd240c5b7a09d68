// Edits of the panel, the board and the output stage. Expected documents are written by hand from the edit's name.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-panel.ts';
import { edited, startHistory } from '../../src/project/index.ts';
import { type EditCase, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const plain = projectOf({ runs: rowsOfStrip(60) });
const opening = { xMm: 5, yMm: 6, widthMm: 250, heightMm: 150 };
const artwork = { mediaType: 'image/png', base64: 'AAAA' } as const;
const backed = {
  ...plain,
  panel: { ...plain.panel, backing: { material: 'MDF', thicknessMm: 12, bitMm: 6 } },
};

const cases: readonly EditCase[] = [
  {
    name: 'renameProject',
    fact: 'sets the name and leaves the sketch its own',
    on: 'first-light',
    edit: edits.renameProject('Second Light'),
    leaves: () => ({ '/name': 'Second Light' }),
  },
  {
    name: 'renameProject',
    fact: 'leaves the old name rather than none',
    on: plain,
    edit: edits.renameProject(''),
    leaves: () => ({}),
  },
  {
    name: 'setSavedOn',
    fact: 'sets the moment of saving',
    on: 'midnight-carnival',
    edit: edits.setSavedOn('2027-01-02T03:04:05Z'),
    leaves: () => ({ '/savedOn': '2027-01-02T03:04:05Z' }),
  },
  {
    name: 'setPanelSize',
    fact: 'sets one measure and leaves the other',
    on: 'midnight-carnival',
    edit: edits.setPanelSize({ widthMm: 610.5 }),
    leaves: () => ({ '/panel/widthMm': 610.5 }),
  },
  {
    name: 'setPanelSize',
    fact: 'sets both measures',
    on: plain,
    edit: edits.setPanelSize({ widthMm: 700, heightMm: 450 }),
    leaves: () => ({ '/panel/widthMm': 700, '/panel/heightMm': 450 }),
  },
  {
    name: 'setOpening',
    fact: 'gives a panel its visible opening',
    on: plain,
    edit: edits.setOpening(opening),
    leaves: () => ({ '/panel/opening': opening }),
  },
  {
    name: 'setOpening',
    fact: 'takes the opening away',
    on: 'first-light',
    edit: edits.setOpening(undefined),
    leaves: () => ({ '/panel/opening': undefined }),
  },
  {
    name: 'setAirGap',
    fact: 'sets the air gap',
    on: 'first-light',
    edit: edits.setAirGap(31.5),
    leaves: () => ({ '/panel/airGapMm': 31.5 }),
  },
  {
    name: 'setSheet',
    fact: 'sets the diffuser sheet',
    on: 'first-light',
    edit: edits.setSheet('drafting-film'),
    leaves: () => ({ '/panel/sheet': 'drafting-film' }),
  },
  {
    name: 'setArtwork',
    fact: 'replaces the artwork',
    on: 'first-light',
    edit: edits.setArtwork(artwork),
    leaves: () => ({ '/panel/artwork': artwork }),
  },
  {
    name: 'setArtwork',
    fact: 'takes the artwork away',
    on: 'midnight-carnival',
    edit: edits.setArtwork(undefined),
    leaves: () => ({ '/panel/artwork': undefined }),
  },
  {
    name: 'setOpacity',
    fact: 'gives a panel an opacity layer',
    on: 'first-light',
    edit: edits.setOpacity(artwork),
    leaves: () => ({ '/panel/opacity': artwork }),
  },
  {
    name: 'setOpacity',
    fact: 'takes the layer away',
    on: { ...plain, panel: { ...plain.panel, opacity: artwork, artwork } },
    edit: edits.setOpacity(undefined),
    leaves: () => ({ '/panel/opacity': undefined }),
  },
  {
    name: 'setGlass',
    fact: 'puts a clear pane in front',
    on: plain,
    edit: edits.setGlass(4),
    leaves: () => ({ '/panel/glassMm': 4 }),
  },
  {
    name: 'setGlass',
    fact: 'takes the pane away',
    on: { ...plain, panel: { ...plain.panel, glassMm: 3 } },
    edit: edits.setGlass(undefined),
    leaves: () => ({ '/panel/glassMm': undefined }),
  },
  {
    name: 'setBacking',
    fact: 'given a thickness makes a backing',
    on: plain,
    edit: edits.setBacking({ thicknessMm: 9, bitMm: 6, material: undefined }),
    leaves: () => ({ '/panel/backing': { thicknessMm: 9, bitMm: 6 } }),
  },
  {
    name: 'setBacking',
    fact: 'without a thickness makes none',
    on: plain,
    edit: edits.setBacking({ material: 'Plywood' }),
    leaves: () => ({}),
  },
  {
    name: 'setBacking',
    fact: 'changes what it is given and takes the router bit away',
    on: backed,
    edit: edits.setBacking({ channelDepthMm: 2.5, bitMm: undefined }),
    leaves: () => ({ '/panel/backing/channelDepthMm': 2.5, '/panel/backing/bitMm': undefined }),
  },
  {
    name: 'setBacking',
    fact: 'given nothing takes the backing away',
    on: backed,
    edit: edits.setBacking(undefined),
    leaves: () => ({ '/panel/backing': undefined }),
  },
  {
    name: 'setBoardPlace',
    fact: 'says where the board sits',
    on: 'deep-sea',
    edit: edits.setBoardPlace({ xMm: 12, yMm: 300 }),
    leaves: () => ({ '/board/place': { xMm: 12, yMm: 300 } }),
  },
  {
    name: 'setBoardPlace',
    fact: 'takes the place away',
    on: { ...plain, board: { ...plain.board, place: { xMm: 1, yMm: 2 } } },
    edit: edits.setBoardPlace(undefined),
    leaves: () => ({ '/board/place': undefined }),
  },
  {
    name: 'setBoardOutput',
    fact: 'says what its pins give',
    on: 'deep-sea',
    edit: edits.setBoardOutput(3.3),
    leaves: () => ({ '/board/outputVolts': 3.3 }),
  },
  {
    name: 'setDataLineParts',
    fact: 'says what stands before the first LED',
    on: 'deep-sea',
    edit: edits.setDataLineParts(0, { resistorOhms: 330, hasShifter: true }),
    leaves: () => ({ '/dataLines/0/resistorOhms': 330, '/dataLines/0/hasShifter': true }),
  },
  {
    name: 'setBoard',
    fact: 'sets the board and leaves the pins',
    on: 'midnight-carnival',
    edit: edits.setBoard('atmega328p-old'),
    leaves: () => ({ '/board/id': 'atmega328p-old' }),
  },
  {
    name: 'setPin',
    fact: 'sets the pin of one data line',
    on: 'midnight-carnival',
    edit: edits.setPin(0, 11),
    leaves: () => ({ '/dataLines/0/pin': 11 }),
  },
  {
    name: 'setPin',
    fact: 'given none takes the pin away',
    on: 'midnight-carnival',
    edit: edits.setPin(0, undefined),
    leaves: () => ({ '/dataLines/0/pin': undefined }),
  },
  {
    name: 'setOutput',
    fact: 'sets the brightness alone',
    on: 'first-light',
    edit: edits.setOutput({ brightnessPercent: 55 }),
    leaves: () => ({ '/output/brightnessPercent': 55 }),
  },
  {
    name: 'setOutput',
    fact: 'takes the white balance away and sets the gamma',
    on: 'first-light',
    edit: edits.setOutput({ whiteBalance: undefined, gamma: { red: 2, green: 2.5, blue: 3 } }),
    leaves: () => ({ '/output/whiteBalance': undefined, '/output/gamma': { red: 2, green: 2.5, blue: 3 } }),
  },
];

describe('[EDIT1] edits of the panel', () => {
  testCases(cases, edits);

  test('what the document does not hold is refused', () => {
    const history = startHistory(sample('first-light'));
    expect(() => edited(history, 'sheet', edits.setSheet('glass'))).toThrow('no sheet "glass"');
    expect(() => edited(history, 'pin', edits.setPin(1, 5))).toThrow('no data line 1');
  });
});
