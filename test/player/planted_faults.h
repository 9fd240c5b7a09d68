// Functions that are right with an int of 32 bits and wrong with AVR's 16, and one the other way round: planted to prove that the
// checked integers see such faults. None of this is in any firmware. What each should have computed stands in planted-faults.test.ts.
#pragma once
#include "integers.h"

#define PLANTED static __attribute__((noinline)) lamploom::U32

namespace planted {

using lamploom::I16;
using lamploom::U16;
using lamploom::U32;
using lamploom::U8;

/** The product of two int16 needs more than 15 bits. */
PLANTED weightedDifference(U16 a, U16 b) {
  I16 weight = (I16)(U8)a, off = (I16)(weight - (I16)(U8)b);
  return (U32)(I16)(off * weight / 4);
}
/** A byte becomes int16, and its top bit the sign, which widening then spreads. */
PLANTED wordFromBytes(U16 a, U16 b) {
  U8 high = (U8)a, low = (U8)b;
  U32 word = (high << 8) | low;
  return word;
}
/** The sum of two uint16 wraps before it is compared. */
PLANTED sumIsLarge(U16 a, U16 b) { return (U32)(U8)(a + b > 50000 ? 1 : 0); }
/** A uint16 stays unsigned, so its negative is never under 0. */
PLANTED isNegativeOfSomething(U16 a, U16) { return (U32)(U8)(-a < 0 ? 1 : 0); }
/** Time x rate is worked out in 16 bits, however wide the result's home is. */
PLANTED timeTimesRate(U16 a, U16) {
  U32 steps = a * 25u;
  return steps;
}
/** The negative number becomes a large unsigned one. */
PLANTED changeFits(U16 a, U16 b) {
  I16 change = (I16)a;
  return (U32)(U8)(change < b ? 1 : 0);
}
/** A scale that passes 32,767 before it is divided. */
PLANTED levelOf200(U16 a, U16) {
  U8 share = (U8)a;
  I16 level = (I16)(share * 200 / 255);
  return (U32)level;
}
/** The middle of two uint16: the sum loses its top bit. */
PLANTED middleOfTwo(U16 a, U16 b) { return (U32)(U16)((a + b) / 2); }
/** Right on AVR only: the difference wraps there as the timer does, and is a plain negative number elsewhere. */
PLANTED isOver(U16 a, U16 b) { return (U32)(U8)(a - b > 100 ? 1 : 0); }

}  // namespace planted
