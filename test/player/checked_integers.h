// Integers for the native build that behave as on AVR, where int is 16 bits, and report what would overflow there.
// Stands in for the player's plain types when LAMPLOOM_CHECKED is defined (player/integers.h); never part of any firmware.
// Rules: C++11, [conv.prom], [expr] 10 (usual arithmetic conversions), [expr.shift], with AVR's int 16 and long 32 bits.
// Wrapping of unsigned types and narrowing by conversion are defined, so they are silent. A plain operand counts as a literal.
// test/player/planted-faults.test.ts holds the predictions against a real AVR program.
#pragma once
#include <stdint.h>
#include <stdio.h>
#include <type_traits>

namespace lamploom {

/** What signed overflow was seen: how often, and the first expressions. */
struct CheckedReports {
  enum { kept = 8, textSize = 120 };
  unsigned long count;
  char text[kept][textSize];
};
inline CheckedReports &checkedReports() {
  static CheckedReports reports;
  return reports;
}

/** The types that arithmetic takes place in on AVR, ordered so that the later one of two is their common type. */
enum AvrType { avrInt16, avrUint16, avrInt32, avrUint32 };
inline const char *avrTypeName(AvrType type) {
  static const char *const names[] = {"int16", "uint16", "int32", "uint32"};
  return names[type];
}
inline bool avrIsSigned(AvrType type) { return type == avrInt16 || type == avrInt32; }
inline int avrBits(AvrType type) { return type == avrInt16 || type == avrUint16 ? 16 : 32; }
inline int64_t avrWrap(AvrType type, int64_t exact) {
  switch (type) {
    case avrInt16: return (int16_t)exact;
    case avrUint16: return (uint16_t)exact;
    case avrInt32: return (int32_t)exact;
    default: return (uint32_t)exact;
  }
}

/** The result of an operator, or an operand after promotion. */
struct AvrValue {
  int64_t value;
  AvrType type;
  template <class N, class = typename std::enable_if<std::is_integral<N>::value>::type>
  explicit operator N() const {
    return (N)value;
  }
};

template <class T>
struct Checked;

template <class T>
struct IsChecked : std::false_type {};
template <class T>
struct IsChecked<Checked<T>> : std::true_type {};
template <>
struct IsChecked<AvrValue> : std::true_type {};
template <class N>
struct IsPlain : std::integral_constant<bool, std::is_integral<N>::value || std::is_enum<N>::value> {};
/** Two operands of which at least one is checked. */
template <class A, class B>
struct IsPair : std::integral_constant<bool, (IsChecked<A>::value && (IsChecked<B>::value || IsPlain<B>::value)) ||
                                                 (IsPlain<A>::value && IsChecked<B>::value)> {};

inline __attribute__((noinline, cold)) void reportOverflow(const char *op, AvrValue a, AvrValue b, AvrType type, int64_t exact) {
  CheckedReports &reports = checkedReports();
  if (reports.count < CheckedReports::kept)
    snprintf(reports.text[reports.count], CheckedReports::textSize, "%s %lld %s %s %lld = %lld, not in %s", avrTypeName(a.type),
             (long long)a.value, op, avrTypeName(b.type), (long long)b.value, (long long)exact, avrTypeName(type));
  reports.count++;
}
inline AvrValue avrResult(const char *op, AvrValue a, AvrValue b, AvrType type, int64_t exact) {
  const AvrValue result = {avrWrap(type, exact), type};
  if (avrIsSigned(type) && result.value != exact) reportOverflow(op, a, b, type, exact);
  return result;
}

/** A fixed-width type after promotion: narrower ones become int16, whose values hold all of theirs. */
template <class T>
inline AvrValue promoted(T value) {
  const AvrValue result = {(int64_t)value, sizeof(T) < 2          ? avrInt16
                                           : sizeof(T) == 2       ? (std::is_signed<T>::value ? avrInt16 : avrUint16)
                                           : std::is_signed<T>::value ? avrInt32
                                                                      : avrUint32};
  return result;
}
inline AvrValue operandOf(AvrValue value) { return value; }
template <class T>
inline AvrValue operandOf(const Checked<T> &checked) {
  return promoted(checked.value);
}
/** Literals and enumerators: int (16 bits) where they fit, else long; with suffix u likewise unsigned. */
template <class N>
inline typename std::enable_if<IsPlain<N>::value, AvrValue>::type operandOf(N plain) {
  const int64_t value = (int64_t)plain;
  const bool isUnsigned = std::is_same<N, unsigned>::value || std::is_same<N, unsigned long>::value;
  AvrType type = avrInt16;
  if (sizeof(N) == 2 && !std::is_enum<N>::value) type = std::is_signed<N>::value ? avrInt16 : avrUint16;
  else if (isUnsigned) type = value <= 0xFFFF && sizeof(N) == 4 ? avrUint16 : avrUint32;
  else if (sizeof(N) == 8 || value != (int16_t)value) type = avrInt32;
  const AvrValue result = {value, type};
  return result;
}

template <class T>
struct Checked {
  T value;

  Checked() = default;
  template <class N, class = typename std::enable_if<IsPlain<N>::value>::type>
  Checked(N plain) : value((T)plain) {}
  template <class U>
  Checked(Checked<U> other) : value((T)other.value) {}
  Checked(AvrValue result) : value((T)result.value) {}

  template <class N, class = typename std::enable_if<std::is_integral<N>::value>::type>
  explicit operator N() const {
    return (N)value;
  }
#define LAMPLOOM_COMPOUND(op)                     \
  template <class B>                              \
  Checked &operator op##=(const B &b) {           \
    return *this = Checked(*this op b);           \
  }
  LAMPLOOM_COMPOUND(+)
  LAMPLOOM_COMPOUND(-)
  LAMPLOOM_COMPOUND(*)
  LAMPLOOM_COMPOUND(/)
  LAMPLOOM_COMPOUND(%)
  LAMPLOOM_COMPOUND(&)
  LAMPLOOM_COMPOUND(|)
  LAMPLOOM_COMPOUND(^)
  LAMPLOOM_COMPOUND(<<)
  LAMPLOOM_COMPOUND(>>)
#undef LAMPLOOM_COMPOUND
  Checked &operator++() { return *this += 1; }
  Checked &operator--() { return *this -= 1; }
  Checked operator++(int) {
    const Checked before = *this;
    ++*this;
    return before;
  }
  Checked operator--(int) {
    const Checked before = *this;
    --*this;
    return before;
  }
};

// Both operands become their common type, the operator works on exact values, and the result must fit.
// The product is taken unsigned, since that of two uint32 may need all 64 bits; it wraps to the same bits.
#define LAMPLOOM_ARITHMETIC(op, exact)                                                     \
  template <class A, class B>                                                              \
  inline typename std::enable_if<IsPair<A, B>::value, AvrValue>::type operator op(const A &left, const B &right) { \
    const AvrValue a = operandOf(left), b = operandOf(right);                              \
    const AvrType type = a.type > b.type ? a.type : b.type;                                \
    const int64_t x = avrWrap(type, a.value), y = avrWrap(type, b.value);                  \
    return avrResult(#op, a, b, type, exact);                                              \
  }
LAMPLOOM_ARITHMETIC(+, x + y)
LAMPLOOM_ARITHMETIC(-, x - y)
LAMPLOOM_ARITHMETIC(*, (int64_t)((uint64_t)x * (uint64_t)y))
LAMPLOOM_ARITHMETIC(&, x & y)
LAMPLOOM_ARITHMETIC(|, x | y)
LAMPLOOM_ARITHMETIC(^, x ^ y)
#undef LAMPLOOM_ARITHMETIC

#define LAMPLOOM_DIVISION(op)                                                              \
  template <class A, class B>                                                              \
  inline typename std::enable_if<IsPair<A, B>::value, AvrValue>::type operator op(const A &left, const B &right) { \
    const AvrValue a = operandOf(left), b = operandOf(right);                              \
    const AvrType type = a.type > b.type ? a.type : b.type;                                \
    const int64_t x = avrWrap(type, a.value), y = avrWrap(type, b.value);                  \
    if (y == 0) reportOverflow(#op, a, b, type, 0);                                        \
    return avrResult(#op, a, b, type, y == 0 ? 0 : x op y);                                \
  }
LAMPLOOM_DIVISION(/)
LAMPLOOM_DIVISION(%)
#undef LAMPLOOM_DIVISION

/** The left operand alone decides the type. Shifting a negative number left, or by the whole width, is undefined. */
template <class A, class B>
inline typename std::enable_if<IsPair<A, B>::value, AvrValue>::type operator<<(const A &left, const B &right) {
  const AvrValue a = operandOf(left), b = operandOf(right);
  const bool countFits = b.value >= 0 && b.value < avrBits(a.type);
  const int64_t exact = countFits ? a.value * ((int64_t)1 << b.value) : 0;
  if (!countFits || a.value < 0) {
    reportOverflow("<<", a, b, a.type, exact);
    const AvrValue undefined = {avrWrap(a.type, exact), a.type};
    return undefined;
  }
  return avrResult("<<", a, b, a.type, exact);
}
template <class A, class B>
inline typename std::enable_if<IsPair<A, B>::value, AvrValue>::type operator>>(const A &left, const B &right) {
  const AvrValue a = operandOf(left), b = operandOf(right);
  const bool countFits = b.value >= 0 && b.value < avrBits(a.type);
  if (!countFits) reportOverflow(">>", a, b, a.type, 0);
  return avrResult(">>", a, b, a.type, countFits ? a.value >> b.value : 0);
}

#define LAMPLOOM_COMPARISON(op)                                                            \
  template <class A, class B>                                                              \
  inline typename std::enable_if<IsPair<A, B>::value, bool>::type operator op(const A &left, const B &right) { \
    const AvrValue a = operandOf(left), b = operandOf(right);                              \
    const AvrType type = a.type > b.type ? a.type : b.type;                                \
    return avrWrap(type, a.value) op avrWrap(type, b.value);                               \
  }
LAMPLOOM_COMPARISON(<)
LAMPLOOM_COMPARISON(>)
LAMPLOOM_COMPARISON(<=)
LAMPLOOM_COMPARISON(>=)
LAMPLOOM_COMPARISON(==)
LAMPLOOM_COMPARISON(!=)
#undef LAMPLOOM_COMPARISON

template <class A>
inline typename std::enable_if<IsChecked<A>::value, AvrValue>::type operator~(const A &operand) {
  const AvrValue a = operandOf(operand);
  return avrResult("~", a, a, a.type, avrWrap(a.type, ~a.value));
}
template <class A>
inline typename std::enable_if<IsChecked<A>::value, AvrValue>::type operator-(const A &operand) {
  const AvrValue a = operandOf(operand), zero = {0, a.type};
  return avrResult("-", zero, a, a.type, -a.value);
}
template <class A>
inline typename std::enable_if<IsChecked<A>::value, AvrValue>::type operator+(const A &operand) {
  return operandOf(operand);
}

/** Pointers move by whole elements; their arithmetic has no width of its own here. */
template <class P, class A>
inline typename std::enable_if<IsChecked<A>::value, P *>::type operator+(P *pointer, const A &steps) {
  return pointer + operandOf(steps).value;
}

}  // namespace lamploom
