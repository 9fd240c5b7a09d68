// Where everything lies in the show data: the compact tables that the player plays. Written by src/lampshow/show-data.ts, which
// must agree byte for byte (test/lampshow/show-data.test.ts reads both); every byte and rule is told in SPEC.md.
// Little endian; offsets count from the start of the show data, 0 where there is nothing.
// The start lies on a 256-byte boundary, so that a gamma table is found by its page number alone.
#pragma once
#include "integers.h"

namespace lamploom {

enum Header {
  headerMagic = 0,            // u16 0x4C57
  headerFormat = 2,           // u8  showDataFormat
  headerFrameMs = 3,          // u8  time from one frame to the next
  headerSize16 = 4,           // u16 bytes of the show data, header included
  headerCheck = 6,            // u16 CRC-16 (polynomial 0x1021, start 0xFFFF) of all bytes behind this field
  headerLedCount = 8,         // u16 LEDs on all lines
  headerLineCount = 10,       // u8
  headerOrderCount = 11,      // u8  colour orders in use
  headerAreaCount = 12,       // u8
  headerGradientCount = 13,   // u8  gradients and palettes, each counted once whatever the orders
  headerShowCount = 14,       // u8
  headerEventCount = 15,      // u8
  headerStartShow = 16,       // u8  number of the show that plays after power-up
  headerInputs = 17,          // u8  InputBits
  headerLines = 18,           // u16 offset of the line table
  headerAreas = 20,           // u16 offset of a table of u16 offsets
  headerGradients = 22,       // u16 offset of a table of u16 offsets: each gradient once for each colour order
  headerShows = 24,           // u16 offset of a table of u16 offsets
  headerEvents = 26,          // u16 offset of the event table
  headerText = 28,            // u16 offset of the text that answers a hello: u8 count, characters
  headerLimited = 30,         // u8  1: the limiter is on
  headerBudget = 31,          // u32 255 x what all channels together may draw, in the unit of segmentCurrent
  headerRoomScales = 35,      // 3 x u8 scale of every byte (see scale8) for the room steps, brightest first
  headerRoomPort = 38,        // u16 data-space address of the PINx register of the room button, 0 where there is none
  headerRoomMask = 40,        // u8
  headerI2cAddress = 41,      // u8  7 bits
  headerSize = 42
};
enum { showDataMagic = 0x4C57, showDataFormat = 3 };
enum InputBits { inputSerial = 1, inputI2c = 2, inputWatchdog = 4 };

enum Line {                   // one data line
  lineLedCount = 0,           // u16
  lineFirstLed = 2,           // u16 its first LED's number in the frame buffer
  linePortAddress = 4,        // u16 data-space address of the PORTx register
  linePinMask = 6,            // u8
  linePartner = 7,            // u8  line of the same port that goes out together with this one; LinePartner where none does
  lineSegments = 8,           // u16 offset of its segments, one behind the other
  lineSegmentCount = 10,      // u8
  lineSize = 11
};
enum LinePartner { partnerNone = 0xFF, partnerLeads = 0xFE };  // leads: this line goes out with an earlier one

enum Segment {                // neighbours on a line with one colour order, one kind of chip and one white balance
  segmentLedCount = 0,        // u16
  segmentGammaPages = 2,      // 3 x u8 page (offset / 256) of the table for the colour byte 0, 1, 2
  segmentWhite = 5,           // u8  0: three bytes an LED; 1 to 4: four bytes, white is the first to the fourth
  segmentCurrent = 6,         // u16 one colour channel at full level, in a unit that the show compiler chooses
  segmentWhiteCurrent = 8,    // u16 the white channel at full level
  segmentSharesString = 10,   // u8  1: the largest colour channel counts, 0: their sum; white adds to either
  segmentSize = 11
};

enum Area {
  areaSpanCount = 0,          // u16
  areaSpans = 2
};
enum Span {                   // neighbours on the wire that belong to the area
  spanFirstLed = 0,           // u16
  spanLedCount = 2,           // u8
  spanOrder = 3,              // u8  number of its colour order
  spanSize = 4
};

// A gradient: u8 piece count, then the pieces: straight lines through the entries of the colour table. The last colour plus one step stays
// within 0 to 65,535, so that looking between two entries never wraps.
enum Gradient {
  pieceEntries = 0,           // u8  colours that this piece fills; all pieces together fill at most 64
  pieceStart = 1,             // 3 x u16 wire place 0, 1, 2 at its first colour, 8.8
  pieceStep = 7,              // 3 x u16 what is added from colour to colour, 8.8, modulo 65,536
  pieceSize = 13
};
// A palette (for painted frames): u8 0, u8 colour count up to 16, then 3 x u8 a colour in wire order.
enum Palette { paletteMark = 0, paletteCount = 1, paletteColours = 2 };

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
  clipEnvelope = 12,          // u16 offset of its brightness envelope
  clipMap = 14,               // u16 offset of what the effect knows of each LED of the area: mapBytes(effect) bytes an LED, in wire order
  clipArea = 16,              // u8
  clipGradient = 17,          // u8  gradient, or palette where the effect is painted
  clipEffect = 18,            // u8  EffectNumber
  clipBlend = 19,             // u8  BlendNumber, and blendOnBlack where no clip below lights any of its LEDs while it plays
  clipLevel = 20,             // u8  see scale8
  clipCycle = 21,             // u32 turns of the gradient a ms, 8.24, two's complement; 0: it stays
  clipParameters = 25,        // 16 bytes; their meaning is the effect's (effects.h)
  clipSize = 41
};
enum { parameterBytes = 16 };

enum Envelope {               // u8 point count of at least 1, then points by time; before the first and behind the last their level stays
  envelopeMs = 0,             // u32
  envelopeLevel = 4,          // u8
  envelopeSize = 5
};

enum Frames {                 // painted frames of one clip; they repeat
  framesBits = 0,             // u8  bits an LED: 1, 2 or 4
  framesCount = 1,            // u16
  framesLengthMs = 3,         // u32 all frames together
  framesList = 7
};
enum FrameEntry {
  frameStartMs = 0,           // u32 ascending from 0
  frameFadeMs = 4,            // u16 time at its end during which it turns into the next one
  frameCells = 6,             // u16 offset of the packed cells: LEDs of the area in wire order, lowest bits first
  frameEntrySize = 8
};

enum Letters {                // u16 column count, then one byte a column: bit 0 is the top row; blank ones wherever an area's LEDs may look
  lettersColumnCount = 0,
  lettersColumns = 2
};

enum Event {
  eventShow = 0,              // u8
  eventPriority = 1,          // u8  the greater one wins
  eventFlags = 2,             // u8  EventFlags
  eventPlays = 3,             // u8  how often its show plays; 0: until another event
  eventCrossfadeMs = 4,       // u16
  eventRetriggerMs = 6,       // u16 the same event again within this time is not heard
  eventDelayFrames = 8,       // u16 frames from its being heard until it counts; 0: at once
  eventPortAddress = 10,      // u16 data-space address of the PINx register, 0 where no pin starts it
  eventPinMask = 12,          // u8
  eventSize = 13
};
enum EventFlags { eventQueues = 1, eventResumes = 2, eventHasValue = 4 };

enum EffectNumber {
  effectGlow = 0, effectBands = 1, effectColumn = 2, effectBursts = 3, effectLightning = 4,
  effectStars = 5, effectCloud = 6, effectFire = 7, effectPainted = 8, effectLetters = 9, effectCount = 10
};
enum BlendNumber { blendOver = 0, blendAdd = 1, blendBrighterWins = 2, blendTint = 3, blendCount = 4, blendOnBlack = 0x80 };

}  // namespace lamploom
