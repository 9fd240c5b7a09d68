// One frame of one show: which clips play now, how far each is faded, and which LEDs it touches.
// What comes out is a pure function of (show data, show, time, value from outside); nothing is carried from frame to frame.
// Not here: which show plays (director.h), gamma, brightness, limiter (output.h), the wire (wire_avr.h).
#pragma once
#ifdef __AVR__
#include "loops_avr.h"
#else
#include "blend.h"
#endif

#ifndef LAMPLOOM_BETWEEN_CLIPS
// A board polls its inputs here.
#define LAMPLOOM_BETWEEN_CLIPS(data)
#endif

namespace lamploom {

/** A show at a time inside it; `master` is a scale of the whole show (see scale8). */
struct Layer {
  U8 show;
  U32 timeMs;
  U8 master;
};

/** Level of an envelope at a time: straight lines through its points. */
static U8 envelopeAt(ShowData envelope, U32 timeMs) {
  U8 left = read8(envelope);
  ShowData point = envelope + 1;
  U32 fromMs = 0;
  U8 from = read8(point + envelopeLevel);
  for (; left; left--, point += envelopeSize) {
    const U32 toMs = read32(point + envelopeMs);
    const U8 to = read8(point + envelopeLevel);
    if (timeMs < toMs) {
      // Times lie under 2^24 ms, so that a share of 255 fits.
      const U8 share = (U8)(U32)((U32)((U32)(timeMs - fromMs) * 255u) / (U32)(toMs - fromMs));
      return to >= from ? add8(from, scale8(subtract8(to, from), share)) : subtract8(from, scale8(subtract8(from, to), share));
    }
    fromMs = toMs;
    from = to;
  }
  return from;
}

/** Level of a clip at a time inside it: rising over the fade in, falling over the fade out, the lesser of both, times level and envelope. */
static LAMPLOOM_NOINLINE U8 clipFade(ShowData data, ShowData clip, U32 timeMs) {
  U32 level = 255;
  const U16 fadeIn = read16(clip + clipFadeInMs), fadeOut = read16(clip + clipFadeOutMs);
  const U32 leftMs = (U32)(read32(clip + clipLengthMs) - timeMs);
  if (timeMs < fadeIn) level = (U32)((U32)(timeMs * 255u) / (U32)fadeIn);
  if (leftMs < fadeOut) {
    const U32 falling = (U32)((U32)(leftMs * 255u) / (U32)fadeOut);
    if (falling < level) level = falling;
  }
  U8 fade = scale8((U8)level, read8(clip + clipLevel));
  const U16 envelope = read16(clip + clipEnvelope);
  if (envelope) fade = scale8(fade, envelopeAt(data + (uint16_t)envelope, timeMs));
  return fade;
}

/** Offset number `index` of a table of offsets. */
static inline ShowData tableEntry(ShowData data, uint8_t table, U16 index) {
  ShowData entries = data + (uint16_t)read16(data + table);
  return data + (uint16_t)read16(entries + (uint16_t)(U16)(index << 1));
}

static LAMPLOOM_NOINLINE void renderClip(ShowData data, ShowData clip, U32 timeMs, U8 fade, U8 value, U8 onBlack, U8 *frame) {
  const U8 effect = read8(clip + clipEffect), flags = read8(clip + clipBlend), family = familyOf(effect);
  const U8 blend = (U8)(flags & (uint8_t)(blendOnBlack - 1));
  const U8 how = onBlack && (flags & blendOnBlack) && family != familyChance ? (U8)blendWrite : blend;
  const U16 firstOrder = multiply8(read8(clip + clipGradient), read8(data + headerOrderCount));
  ShowData area = tableEntry(data, headerAreas, (U16)read8(clip + clipArea));
  ClipState state;
  state.data = data;
  state.parameters = clip + clipParameters;
  state.timeMs = timeMs;
  state.value = value;
  LAMPLOOM_MARK(0x11);
  prepareEffect(effect, state);
  const U32 cycleRate = read32(clip + clipCycle);
  const U16 turned = cycleRate ? multiplyHigh16(phase16(multiply32(timeMs, cycleRate)), word16(state.table.entries, 0)) : (U16)0;
  const U8 bytes = mapBytes(family);
  Stretch stretch;
  stretch.map = data + (uint16_t)read16(clip + clipMap);
  stretch.number = 0;
  U16 spans = read16(area + areaSpanCount);
  U8 tableOrder = 0xFF;  // no span has this order, so that the first one fills the table
  for (ShowData span = area + areaSpans; spans; spans--, span += spanSize) {
    const U8 order = read8(span + spanOrder);
    if (order != tableOrder) {
      LAMPLOOM_MARK(0x12);
      ShowData colours = tableEntry(data, headerGradients, add16(firstOrder, (U16)order));
      if (family == familyPainted) fillPainted(colours, state.painted, blend, fade);
      else fillColours(colours, state.table, turned, blend, fade);
      tableOrder = order;
    }
    stretch.led = frame + (uint16_t)(U16)(read16(span + spanFirstLed) * (U16)3);
    stretch.ledCount = read8(span + spanLedCount);
    LAMPLOOM_MARK(0x13);
    runStretch(family, how, state, fade, stretch);
    LAMPLOOM_MARK(0x10);
    stretch.map += (uint16_t)multiply8(stretch.ledCount, bytes);
    stretch.number = add16(stretch.number, (U16)stretch.ledCount);
  }
}

/**
 * Blends all clips of a show that play at a time into `frame`, which holds 3 bytes for each LED, all zero before the first layer.
 * `onBlack`: 1 for the first layer of a frame, 0 for one that is drawn over another.
 */
static void renderLayer(ShowData data, const Layer &layer, U8 value, U8 onBlack, U8 *frame) {
  ShowData show = tableEntry(data, headerShows, (U16)layer.show);
  U16 left = read16(show + showClipCount);
  for (ShowData clip = show + showClips; left; left--, clip += clipSize) {
    LAMPLOOM_BETWEEN_CLIPS(data);
    const U32 start = read32(clip + clipStartMs);
    if (layer.timeMs < start) continue;
    const U32 inside = (U32)(layer.timeMs - start);
    if (inside >= read32(clip + clipLengthMs)) continue;
    const U8 fade = scale8(clipFade(data, clip, inside), layer.master);
    if (fade) renderClip(data, clip, inside, fade, value, onBlack, frame);
  }
}

/** Time inside a show at a frame number counted from its beginning; the show repeats. */
static inline U32 showTimeMs(ShowData data, U8 show, U32 frameNumber) {
  ShowData at = tableEntry(data, headerShows, (U16)show);
  return (U32)(multiply32(frameNumber, (U32)read8(data + headerFrameMs)) % read32(at + showLengthMs));
}

}  // namespace lamploom
