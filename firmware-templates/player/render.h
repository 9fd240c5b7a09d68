// One frame of one show: which clips play now, how far each is faded, and which LEDs it touches.
// What comes out is a pure function of (show data, show, time); nothing is carried from frame to frame.
// Not here: gamma, brightness, limiter (output.h), the wire (wire_avr.h).
#pragma once
#include "blend.h"

namespace lamploom {

/** Level of a clip at a time inside it: rising over the fade in, falling over the fade out, the lesser of both. */
static U8 clipFade(ShowData clip, U32 timeMs) {
  U32 level = 255;
  U16 fadeIn = read16(clip + clipFadeInMs), fadeOut = read16(clip + clipFadeOutMs);
  U32 leftMs = (U32)(read32(clip + clipLengthMs) - timeMs);
  if (timeMs < fadeIn) level = (U32)((U32)(timeMs * 255u) / (U32)fadeIn);
  if (leftMs < fadeOut) {
    U32 falling = (U32)((U32)(leftMs * 255u) / (U32)fadeOut);
    if (falling < level) level = falling;
  }
  return scale8((U8)level, read8(clip + clipLevel));
}

static void renderClip(ShowData data, ShowData clip, U32 timeMs, U8 *frame) {
  U8 fade = clipFade(clip, timeMs);
  if (fade == 0) return;
  U8 effect = read8(clip + clipEffect), blend = read8(clip + clipBlend);
  ShowData gradients = data + read16(data + headerGradients), areas = data + read16(data + headerAreas);
  ShowData orders = gradients + 2 * (uint16_t)multiply8(read8(clip + clipGradient), read8(data + headerOrderCount));
  ShowData area = data + read16(areas + (uint16_t)(U16)((U16)read8(clip + clipArea) * (U16)2));
  ShowData positions = data + read16(data + headerPositions);
  ClipState state;
  state.parameters = clip + clipParameters;
  state.timeMs = timeMs;
  LAMPLOOM_MARK(0x11);
  prepareEffect(effect, state);
  Chunk chunk;
  chunk.places = data + read16(area + areaPlaces);
  U16 spans = read16(area + areaSpanCount);
  U8 tableOrder = 0xFF;  // no span has this order, so that the first one fills the table
  for (ShowData span = area + areaSpans; spans; spans--, span += spanSize) {
    U8 order = read8(span + spanOrder);
    if (order != tableOrder) {
      LAMPLOOM_MARK(0x12);
      fillColourTable(data + read16(orders + 2 * (uint8_t)order), blend, fade);
      tableOrder = order;
    }
    U16 first = read16(span + spanFirstLed);
    U8 left = read8(span + spanLedCount);
    chunk.positions = positions + (uint16_t)(U16)(first * (U16)2);
    U8 *led = frame + (uint16_t)(U16)(first * (U16)3);
    while (left) {
      chunk.ledCount = left < chunkLeds ? left : (U8)chunkLeds;
      LAMPLOOM_MARK(0x13);
      runEffect(effect, state, chunk);
      LAMPLOOM_MARK(0x14);
      blendChunk(blend, led, fade, chunk.ledCount);
      LAMPLOOM_MARK(0x10);
      left = subtract8(left, chunk.ledCount);
      chunk.positions += 2 * (uint8_t)chunk.ledCount;
      chunk.places += (uint8_t)chunk.ledCount;
      led += 3 * (uint8_t)chunk.ledCount;
    }
  }
}

/** Blends all clips of a show at a frame number into `frame`, which must hold 3 x LED count bytes, all zero. The show repeats. */
static void renderFrame(ShowData data, U8 show, U32 frameNumber, U8 *frame) {
  ShowData shows = data + read16(data + headerShows);
  ShowData from = data + read16(shows + (uint16_t)(U16)((U16)show * (U16)2));
  U32 timeMs = (U32)(multiply32(frameNumber, (U32)read8(data + headerFrameMs)) % read32(from + showLengthMs));
  U16 left = read16(from + showClipCount);
  for (ShowData clip = from + showClips; left; left--, clip += clipSize) {
    U32 start = read32(clip + clipStartMs);
    if (timeMs < start) continue;
    U32 inside = (U32)(timeMs - start);
    if (inside < read32(clip + clipLengthMs)) renderClip(data, clip, inside, frame);
  }
}

}  // namespace lamploom
