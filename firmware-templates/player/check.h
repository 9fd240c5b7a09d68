// Whether show data may be played. Intact: complete and unchanged since they were compiled (size and check), which every target asks once at its
// beginning; a board whose data are not intact stays black. Sound: every offset, count and number in them stays inside, asked where data may
// come from anywhere (the preview, tools); a board gets only what the show compiler made and a check confirms.
// Not here: what the bytes mean (show_data.h, SPEC.md).
#pragma once
#include "blend.h"

namespace lamploom {

enum { checkedFrom = 8 };

/** CRC-16 with polynomial 0x1021 and start 0xFFFF, catalogued as CRC-16/IBM-3740. */
static inline U16 crcNext(U16 crc, U8 byte) {
  U8 mixed = (U8)(highByte8(crc) ^ byte);
  mixed = (U8)(mixed ^ (U8)(mixed >> 4));
  const U16 wide = (U16)mixed;
  return (U16)((U16)((U16)(crc << 8) ^ (U16)(wide << 12)) ^ (U16)((U16)(wide << 5) ^ wide));
}

static LAMPLOOM_NOINLINE U8 isIntact(ShowData data) {
  const U16 size = read16(data + headerSize16);
  if (read16(data + headerMagic) != showDataMagic || read8(data + headerFormat) != showDataFormat || size < headerSize) return 0;
  U16 crc = 0xFFFF;
  ShowData byte = data + checkedFrom;
  for (U16 left = subtract16(size, checkedFrom); left; left--) crc = crcNext(crc, readNext(byte));
  return crc == read16(data + headerCheck) ? (U8)1 : (U8)0;
}

#ifndef __AVR__
/** The data and how far they reach. All arithmetic here is in 32 bits, so that nothing can wrap. */
struct Bounds {
  ShowData data;
  uint32_t size;

  uint8_t u8(uint32_t at) const { return at < size ? (uint8_t)read8(data + at) : 0; }
  uint16_t u16(uint32_t at) const { return at + 1 < size ? (uint16_t)read16(data + at) : 0; }
  uint32_t u32(uint32_t at) const { return at + 3 < size ? (uint32_t)read32(data + at) : 0; }
  bool holds(uint32_t at, uint32_t bytes) const { return at <= size && bytes <= size - at; }
};

static uint32_t soundArea(const Bounds &in, uint32_t at, uint32_t ledCount, uint8_t orderCount) {
  const uint32_t spans = in.u16(at + areaSpanCount);
  if (!in.holds(at, areaSpans + spans * spanSize)) return 0;
  uint32_t leds = 0;
  for (uint32_t span = at + areaSpans; span < at + areaSpans + spans * spanSize; span += spanSize) {
    const uint32_t count = in.u8(span + spanLedCount);
    if (count == 0 || in.u16(span + spanFirstLed) + count > ledCount || in.u8(span + spanOrder) >= orderCount) return 0;
    leds += count;
  }
  return leds;
}

static bool soundColours(const Bounds &in, uint32_t at, bool isPalette) {
  if (!in.holds(at, 2)) return false;
  const uint32_t pieces = in.u8(at);
  if (isPalette) {
    const uint32_t colours = in.u8(at + paletteCount);
    return pieces == paletteMark && colours >= 1 && colours <= paletteMost && in.holds(at + paletteColours, 3 * colours);
  }
  if (pieces == 0 || !in.holds(at + 1, pieces * pieceSize)) return false;
  for (uint32_t piece = 0; piece < pieces; piece++)
    if (in.u8(at + 1 + piece * pieceSize + pieceEntries) == 0) return false;
  return true;
}

static bool soundFrames(const Bounds &in, uint32_t at, uint32_t leds) {
  const uint32_t bits = in.u8(at + framesBits), count = in.u16(at + framesCount);
  if (!in.holds(at, framesList + count * frameEntrySize) || count == 0 || in.u32(at + framesLengthMs) == 0) return false;
  if (bits != 1 && bits != 2 && bits != 4) return false;
  for (uint32_t entry = at + framesList; entry < at + framesList + count * frameEntrySize; entry += frameEntrySize)
    if (!in.holds(in.u16(entry + frameCells), (leds * bits + 7) / 8)) return false;
  return true;
}

/** Letters are looked up without asking whether they are there: every LED's column of a pass, and the one behind it, must be. */
static bool soundLetters(const Bounds &in, uint32_t at, uint32_t map, uint32_t leds) {
  const uint32_t letters = in.u16(at + 9), count = in.u16(letters + lettersColumnCount);
  uint32_t last = 0;
  for (uint32_t led = 0; led < leds; led++)
    if (in.u8(map + 2 * led) > last) last = in.u8(map + 2 * led);
  const uint32_t passed = in.u32(at) ? in.u16(at + 4) : 1;
  return in.holds(letters, lettersColumns + count) && in.u16(at + 6) + passed + last < count;
}

static bool soundParameters(const Bounds &in, uint8_t effect, uint32_t at, uint32_t map, uint32_t leds) {
  switch (effect) {
    case effectBands: {
      const uint32_t places = (in.u8(at + 12) & bandStepsAnEntry) >> 4;
      return places <= 2 && in.u16(at + 4) >= 1 && ((uint32_t)in.u16(at + 4) >> places) <= tableEntries * 256u;
    }
    case effectLightning: return in.u16(at) > 0;
    case effectPainted: return soundFrames(in, in.u16(at), leds);
    case effectLetters: return soundLetters(in, at, map, leds);
    default: return true;
  }
}

static bool soundClip(const Bounds &in, uint32_t clip) {
  const uint8_t effect = in.u8(clip + clipEffect), area = in.u8(clip + clipArea), gradient = in.u8(clip + clipGradient);
  const uint8_t orders = in.u8(headerOrderCount);
  if (effect >= effectCount || (in.u8(clip + clipBlend) & ~blendOnBlack) >= blendCount) return false;
  if (area >= in.u8(headerAreaCount) || gradient >= in.u8(headerGradientCount)) return false;
  const uint32_t leds = soundArea(in, in.u16(in.u16(headerAreas) + 2u * area), in.u16(headerLedCount), orders);
  if (leds == 0) return false;
  for (uint32_t order = 0; order < orders; order++)
    if (!soundColours(in, in.u16(in.u16(headerGradients) + 2u * (gradient * orders + order)), effect == effectPainted)) return false;
  const uint32_t envelope = in.u16(clip + clipEnvelope);
  if (envelope && (in.u8(envelope) == 0 || !in.holds(envelope, 1 + (uint32_t)in.u8(envelope) * envelopeSize))) return false;
  const uint32_t bytes = (uint8_t)mapBytes(familyOf((U8)effect));
  return in.holds(in.u16(clip + clipMap), bytes * leds) && soundParameters(in, effect, clip + clipParameters, in.u16(clip + clipMap), leds);
}

static bool soundShow(const Bounds &in, uint32_t show) {
  const uint32_t clips = in.u16(show + showClipCount);
  if (!in.holds(show, showClips + clips * clipSize) || in.u32(show + showLengthMs) == 0) return false;
  for (uint32_t clip = 0; clip < clips; clip++)
    if (!soundClip(in, show + showClips + clip * clipSize)) return false;
  return true;
}

static bool soundLine(const Bounds &in, uint32_t line, uint32_t firstLed) {
  const uint32_t segments = in.u16(line + lineSegments), count = in.u8(line + lineSegmentCount);
  if (in.u16(line + lineFirstLed) != firstLed || count == 0 || !in.holds(segments, count * segmentSize)) return false;
  uint32_t leds = 0;
  for (uint32_t segment = segments; segment < segments + count * segmentSize; segment += segmentSize) {
    leds += in.u16(segment + segmentLedCount);
    if (in.u8(segment + segmentWhite) > 4) return false;
    for (uint32_t place = 0; place < 3; place++)
      if (!in.holds(256u * in.u8(segment + segmentGammaPages + place), 256)) return false;
  }
  return leds == in.u16(line + lineLedCount);
}

static bool soundLines(const Bounds &in) {
  const uint32_t lines = in.u16(headerLines), count = in.u8(headerLineCount);
  if (!in.holds(lines, count * lineSize)) return false;
  uint32_t leds = 0;
  for (uint32_t index = 0; index < count; index++) {
    const uint32_t line = lines + index * lineSize, partner = in.u8(line + linePartner);
    if (!soundLine(in, line, leds)) return false;
    if (partner != partnerNone && partner != partnerLeads && (partner >= count || partner <= index)) return false;
    leds += in.u16(line + lineLedCount);
  }
  return leds == in.u16(headerLedCount);
}

/** `size` bytes of show data of whatever origin: whether playing them reads and writes inside them and a frame buffer of `mostLeds` only. */
static bool isSound(ShowData data, uint32_t size, uint32_t mostLeds) {
  const Bounds in = {data, size};
  if (size < headerSize || in.u16(headerSize16) != size || !isIntact(data)) return false;
  if (in.u16(headerLedCount) > mostLeds || in.u8(headerFrameMs) == 0) return false;
  const uint32_t shows = in.u8(headerShowCount), events = in.u8(headerEventCount);
  if (in.u8(headerStartShow) >= shows || !in.holds(in.u16(headerShows), 2 * shows)) return false;
  if (!in.holds(in.u16(headerAreas), 2u * in.u8(headerAreaCount))) return false;
  if (!in.holds(in.u16(headerGradients), 2u * in.u8(headerGradientCount) * in.u8(headerOrderCount))) return false;
  if (!in.holds(in.u16(headerEvents), events * eventSize) || !soundLines(in)) return false;
  for (uint32_t event = 0; event < events; event++)
    if (in.u8(in.u16(headerEvents) + event * eventSize + eventShow) >= shows) return false;
  const uint32_t text = in.u16(headerText);
  if (text && !in.holds(text, 1u + in.u8(text))) return false;
  for (uint32_t show = 0; show < shows; show++)
    if (!soundShow(in, in.u16(in.u16(headerShows) + 2 * show))) return false;
  return true;
}
#endif

}  // namespace lamploom
