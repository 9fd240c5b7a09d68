// Show data with nothing but what the director reads, and the frames in which native.cpp tells what it said. Not here: real show data.
import type { ModelFrame, ModelScene } from './director-model.ts';

const frameBytes = 14;

/** As much show data as the director reads: frame time, lengths of shows, the event table. Places as in show_data.h. */
export function directorData({ frameMs, showLengthsMs, events }: ModelScene): Uint8Array {
  const header = 42;
  const showsAt = header;
  const recordsAt = showsAt + 2 * showLengthsMs.length;
  const eventsAt = recordsAt + 4 * showLengthsMs.length;
  const bytes = new Uint8Array(eventsAt + 13 * events.length);
  const view = new DataView(bytes.buffer);
  bytes[3] = frameMs;
  bytes[15] = events.length;
  view.setUint16(24, showsAt, true);
  view.setUint16(26, eventsAt, true);
  for (const [i, lengthMs] of showLengthsMs.entries()) {
    view.setUint16(showsAt + 2 * i, recordsAt + 4 * i, true);
    view.setUint32(recordsAt + 4 * i, lengthMs, true);
  }
  for (const [i, event] of events.entries()) {
    const at = eventsAt + 13 * i;
    bytes[at] = event.show;
    bytes[at + 1] = event.priority;
    bytes[at + 2] = (event.queues ? 1 : 0) | (event.resumes ? 2 : 0) | (event.hasValue ? 4 : 0);
    bytes[at + 3] = event.plays;
    view.setUint16(at + 4, event.crossfadeMs, true);
    view.setUint16(at + 6, event.retriggerMs, true);
    view.setUint16(at + 8, event.delayFrames, true);
  }
  return bytes;
}

/** Frames as native.cpp writes them: u8 layers, u8 value, and twice u8 show, u32 ms, u8 master. */
export function framesIn(bytes: Uint8Array): ModelFrame[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return Array.from({ length: bytes.length / frameBytes }, (_, i) => {
    const at = i * frameBytes;
    return {
      layers: Array.from({ length: view.getUint8(at) }, (_unused, layer) => ({
        show: view.getUint8(at + 2 + 6 * layer),
        ms: view.getUint32(at + 3 + 6 * layer, true),
        master: view.getUint8(at + 7 + 6 * layer),
      })),
      value: view.getUint8(at + 1),
    };
  });
}
