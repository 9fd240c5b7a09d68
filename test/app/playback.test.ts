// What plays and where it stands: scrubbing equals playing, a part repeats, and the timeline's scale and scroll. Times are made by hand; frames follow
// from the rule that the frame due is the elapsed time in whole frames.
import { describe, expect, test } from 'vitest';
import { Playback } from '../../src/app/playback/playback.ts';
import { playheadOf } from '../../src/app/playback/playhead.ts';
import { rulerMarksBetween } from '../../src/app/playback/ruler.ts';
import { TimelineView } from '../../src/app/playback/timeline-view.ts';
import { beatsEvery, bpmOf, secondsOfBpm } from '../../src/app/stages/lampshows/beats.ts';
import { setLoop } from '../../src/app/workbench/commands/timeline-commands.ts';
import { sample } from '../support/lamploom.ts';
import { benchFor } from './bench.ts';

const carnival = sample('midnight-carnival');

describe('scrubbing and playing', () => {
  test('frames that are scrubbed to in any order carry the bytes that playing sends', async () => {
    const { workbench, clock } = await benchFor(carnival);
    const { playback } = workbench;
    const { frameMs } = workbench.state.settled;
    const shownNow = () => {
      const { show, frame } = playback.current();
      return Uint8Array.from(workbench.wireBytes(show, frame));
    };
    const played = new Map<number, Uint8Array>();
    playback.setPlaying(true);
    // Far beyond one pass of the shorter shows, and at an uneven pace, as a busy page has it.
    for (const show of ['attract', carnival.lampshows[2]!.id]) {
      playback.choose(show);
      played.clear();
      for (let i = 0; i < 160; i++) {
        clock.pass(frameMs * (i % 5 === 0 ? 3.2 : 1));
        playback.tick();
        played.set(playback.current().frame, shownNow());
      }
      playback.setPlaying(false);
      // To and fro over the whole of it: every 61st, round and round.
      const inOrder = [...played.keys()];
      const frames = inOrder.map((_, i) => inOrder[(i * 61 + 30) % inOrder.length]!);
      expect(frames.length).toBeGreaterThan(120);
      for (const frame of frames) {
        playback.scrubTo(frame);
        expect(shownNow(), `${show} ${frame}`).toEqual(played.get(frame));
      }
      expect(new Set([...played.values()].map((bytes) => bytes.join())).size).toBeGreaterThan(50);
      playback.setPlaying(true);
    }
  });
});

describe('a part that repeats', () => {
  const start = { show: 'a', playing: true, frame: 0 };
  const at = (playback: Playback, clock: { ms: number }, ms: number) => {
    clock.ms = ms;
    playback.tick();
    return playback.current().frame;
  };

  test('playing runs into it, goes from its end to its start, and on when it is taken away', () => {
    const clock = { ms: 0 };
    const playback = new Playback(start, 20, () => clock.ms);
    // Frames 5 to 9: their moments are 100, 120 ... 180 ms.
    playback.setLoop({ fromMs: 100, toMs: 200 });
    expect(at(playback, clock, 60)).toBe(3);
    expect(at(playback, clock, 199)).toBe(9);
    expect(at(playback, clock, 200)).toBe(5);
    expect(at(playback, clock, 239)).toBe(6);
    // 100 ms later it stands at the same frame again, and so after a long sleep.
    expect(at(playback, clock, 339)).toBe(6);
    expect(at(playback, clock, 10_039)).toBe(6);
    playback.setLoop(undefined);
    expect(at(playback, clock, 10_139)).toBe(11);
  });

  test('each show keeps its own, and one that reaches beyond a shortened show ends with it', () => {
    const clock = { ms: 0 };
    const playback = new Playback(start, 20, () => clock.ms);
    const shows = (lengthMs: number) => [
      { id: 'a', lengthMs },
      { id: 'b', lengthMs: 500 },
    ];
    playback.setLoop({ fromMs: 100, toMs: 900 });
    playback.choose('b');
    expect(playback.current().loop).toBeUndefined();
    playback.choose('a');
    expect(playback.current().loop).toEqual({ fromMs: 100, toMs: 900 });
    playback.follow(20, shows(1000));
    expect(playback.current().loop).toEqual({ fromMs: 100, toMs: 900 });
    playback.follow(20, shows(400));
    expect(playback.current().loop).toEqual({ fromMs: 100, toMs: 400 });
  });

  test('set from the page it is a frame long at least, inside the show, and the whole show is none', async () => {
    const { workbench } = await benchFor(carnival);
    const { frameMs } = workbench.state.settled;
    const lengthMs = carnival.lampshows[0]!.lengthMs;
    const set = (fromMs: number, toMs: number) => {
      setLoop(workbench, { fromMs, toMs });
      return workbench.playback.current().loop;
    };
    expect(set(1000, 1000)).toEqual({ fromMs: 1000, toMs: 1000 + frameMs });
    expect(set(-50, 700)).toEqual({ fromMs: 0, toMs: 700 });
    expect(set(500, lengthMs + 90)).toEqual({ fromMs: 500, toMs: lengthMs });
    expect(set(0, lengthMs)).toBeUndefined();
  });

  test('keys set it at the playhead and take it away; the document stays as it is', async () => {
    const { workbench, commander } = await benchFor(carnival);
    const { frameMs } = workbench.state.settled;
    workbench.playback.scrubTo(20);
    commander.run('loop-from');
    workbench.playback.scrubTo(30);
    commander.run('loop-to');
    expect(workbench.playback.current().loop).toEqual({ fromMs: 20 * frameMs, toMs: 31 * frameMs });
    commander.run('loop-off');
    expect(workbench.playback.current().loop).toBeUndefined();
    expect(workbench.project).toBe(carnival);
  });

  test('the playhead is the moment of the frame within its pass', () => {
    const playback = new Playback({ show: 'attract', playing: false, frame: 0 }, 20, () => 0);
    const { lengthMs } = carnival.lampshows[0]!;
    playback.scrubTo(Math.ceil(lengthMs / 20) + 3);
    const { atMs } = playheadOf(playback, carnival, 20);
    expect(atMs).toBeGreaterThanOrEqual(40);
    expect(atMs).toBeLessThanOrEqual(60);
  });
});

describe('the timeline’s view', () => {
  const viewOf = (widthPx: number, extentMs: number) => {
    const view = new TimelineView();
    view.setWidth(widthPx);
    view.setExtent(extentMs);
    return view;
  };

  test('fitted it shows all; zoomed about a place it keeps the moment there', () => {
    const view = viewOf(800, 20_000);
    expect(view.trackPx).toBe(800);
    // 200 px of 800 are 5 s of 20.
    view.zoomBy(4, 200);
    expect(view.trackPx).toBe(3200);
    expect((view.current().scrollPx + 200) / view.pxPerMs).toBeCloseTo(5000, 9);
    view.zoomBy(1 / 4, 200);
    expect(view.current()).toMatchObject({ pxPerMs: undefined, scrollPx: 0 });
  });

  test('it scrolls no further than the track goes, and zooms no further than four pixels a millisecond', () => {
    const view = viewOf(800, 20_000);
    view.zoomBy(2);
    view.scrollTo(99_999);
    expect(view.current().scrollPx).toBe(800);
    view.scrollTo(-5);
    expect(view.current().scrollPx).toBe(0);
    view.zoomBy(1e9);
    expect(view.pxPerMs).toBe(4);
    view.zoomBy(1e-9);
    expect(view.trackPx).toBe(800);
  });

  test('what plays out of view is brought into it', () => {
    const view = viewOf(800, 20_000);
    view.zoomBy(4, 0);
    view.show(1000);
    expect(view.current().scrollPx).toBe(0);
    // 10 s are at 1,600 px: a tenth of the width from the left edge.
    view.show(10_000);
    expect(view.current().scrollPx).toBe(1600 - 80);
  });

  test('marks of a part stand apart and on round moments', () => {
    // 0.4 px a ms: 200 ms are 80 px, 100 ms would be 40.
    expect(rulerMarksBetween(1010, 1900, 0.4)).toEqual([1200, 1400, 1600, 1800]);
    expect(rulerMarksBetween(0, 40, 4)).toEqual([0, 20, 40]);
  });
});

describe('beats by tempo', () => {
  test('120 a minute are one every half second, and none lies at or beyond the show’s end', () => {
    expect(secondsOfBpm(120)).toBe(0.5);
    expect(bpmOf(0.5)).toBe(120);
    expect(beatsEvery(0.5, 0.25, 1750)).toEqual([250, 750, 1250]);
  });

  test('a third of a second doesn’t drift: the 90th is at 30 s', () => {
    expect(beatsEvery(60 / 180, 0, 60_000)[90]).toBe(30_000);
  });
});
