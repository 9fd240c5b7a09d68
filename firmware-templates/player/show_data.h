// Where everything lies in the show data: the compact tables that the player plays. Written by src/lampshow/show-data.ts, which
// must agree byte for byte (test/lampshow/show-data.test.ts reads both). Little endian; offsets count from the start of the show data.
// The start lies on a 256-byte boundary, so that a gamma table is found by its page number alone.
#pragma once
#include "integers.h"

namespace lamploom {

enum Header {
  headerMagic = 0,            // u16 0x4C57
  headerFormat = 2,           // u8  showDataFormat
  headerBrightness = 3,       // u8  scale of every byte, see scale8
  headerFrameMs = 4,          // u8  time from one frame to the next
  headerLineCount = 5,        // u8
  headerStartShow = 6,        // u8  number of the show that plays after power-up
  headerOrderCount = 7,       // u8  colour orders in use
  headerLedCount = 8,         // u16 LEDs on all lines
  headerLines = 10,           // u16 offset of the line table
  headerSegments = 12,        // u16 offset of the segment table
  headerPositions = 14,       // u16 offset of {u8 x, u8 y} for each LED
  headerAreas = 16,           // u16 offset of a table of u16 offsets
  headerGradients = 18,       // u16 offset of a table of u16 offsets: each gradient once for each colour order
  headerShows = 20,           // u16 offset of a table of u16 offsets
  headerGammaPages = 22,      // 3 x u8 page (offset / 256) of the table for red, green, blue
  headerLimited = 25,         // u8  1: the limiter is on
  headerBudget = 26,          // u32 255 x what all channels together may draw, in the unit of segmentCurrent
  headerPlainPage = 30,       // u8  page of a table that leaves levels as they are; 0 where no line has several segments
  headerSize = 31
};
enum { showDataMagic = 0x4C57, showDataFormat = 1 };

enum Line {                   // one data line
  lineLedCount = 0,           // u16
  linePortAddress = 2,        // u16 data-space address of the PORTx register
  linePinMask = 4,            // u8
  lineSegmentCount = 5,       // u8  segments of this line, in the segment table's order
  lineSize = 6
};

enum Segment {                // neighbours on a line with one colour order and one kind of chip
  segmentLedCount = 0,        // u16
  segmentChannels = 2,        // 3 x u8 channel (0 red, 1 green, 2 blue) of wire byte 0, 1, 2
  segmentCurrent = 5,         // u8  one channel at full level, in a unit that the show compiler chooses
  segmentSharesString = 6,    // u8  1: the largest channel counts, 0: their sum
  segmentSize = 7
};

enum Area {
  areaSpanCount = 0,          // u16
  areaPlaces = 2,             // u16 offset of one u8 for each LED of the area: its place along the order
  areaSpans = 4
};
enum Span {                   // neighbours on the wire that belong to the area
  spanFirstLed = 0,           // u16
  spanLedCount = 2,           // u8
  spanOrder = 3,              // u8  number of its colour order
  spanSize = 4
};

enum Gradient {               // u8 piece count, then the pieces: straight lines through the 64 colours of the table
  pieceEntries = 0,           // u8  colours that this piece fills; all pieces together fill 64
  pieceStart = 1,             // 3 x u16 wire place 0, 1, 2 at its first colour, 8.8
  pieceStep = 7,              // 3 x u16 what is added from colour to colour, 8.8, modulo 65,536
  pieceSize = 13
};

enum Show {                   // the clips, from the lowest row to the highest
  showLengthMs = 0,           // u32
  showClipCount = 4,          // u16
  showClips = 6
};
enum Clip {
  clipStartMs = 0,            // u32
  clipLengthMs = 4,           // u32
  clipFadeInMs = 8,           // u16
  clipFadeOutMs = 10,         // u16
  clipArea = 12,              // u8
  clipGradient = 13,          // u8
  clipEffect = 14,            // u8  EffectNumber
  clipBlend = 15,             // u8  BlendNumber
  clipLevel = 16,             // u8  see scale8
  clipParameters = 17,        // 13 bytes; their meaning is the effect's (effects.h)
  clipSize = 30
};

enum EffectNumber { effectGlow = 0, effectBand = 1, effectStars = 2, effectRings = 3, effectCloud = 4 };
enum BlendNumber { blendOver = 0, blendAdd = 1, blendBrighterWins = 2, blendTint = 3 };

}  // namespace lamploom
