// The director: which shows play at a frame, from the game events heard so far. A pure step function, the same on the board, in the preview and in
// the tests: what it says for a frame follows from the show data, the log of events and the frame number alone, whether every frame is
// asked for or only some. Its rules have numbers, D-1 and so on, in SPEC.md.
// Frame numbers never go back; to go back, begin anew and hear the log again.
// Not here: where events come from (inputs.h), what a layer looks like (render.h).
#pragma once
#include "render.h"

namespace lamploom {

#ifdef __AVR__
// One body, called with pointers: copies made for one global director would name every byte by its full address and take twice the flash.
#define LAMPLOOM_SMALL __attribute__((noinline, noclone))
#else
#define LAMPLOOM_SMALL
#endif

enum {
  mostWaiting = 4,  // events in the queue
  mostAside = 2,    // interrupted shows that are kept, beside the base show
  mostDeaf = 4,     // running retrigger limits
  mostDelayed = 4,  // events that were heard and whose delay runs
  noEvent = 0xFF,   // an empty place; where something plays: the base show
  goesOn = 0x80     // marks a show put aside that later goes on where it was; so events have numbers under 127
};

// Places of the events that play, are aside (the newest first), and wait (by priority, then by arrival).
enum EventPlace { playing = 0, aside = 1, waiting = aside + mostAside, eventPlaces = waiting + mostWaiting };

/** An event that was heard and counts later. */
struct Delayed {
  U16 frames;  // until it counts: the first from Director::frame on, each other one from the one before it on
  U8 event;
};

struct Director {
  U32 frame;               // as far as it has come
  U32 playingMs;           // since time 0 of what plays
  U32 outgoingMs;          // the same of what is faded out
  U32 baseMs;              // the same of the base show while an event's show plays
  U32 asideMs[mostAside];  // the same of shows put aside, when they were
  U16 fadedMs, fadeMs;     // since the crossfade began, at most 65,535; how long it takes
  U16 deafMs[mostDeaf];    // until the event is heard again
  Delayed delayed[mostDelayed];  // by the frame from which they count, then as they were heard
#ifndef __AVR__
  U32 sinceFrame;          // at which what plays took the panel: told on a screen, no decision asks for it
#endif
  U8 deafEvents[mostDeaf];
  U8 events[eventPlaces];
  U8 outgoing;
  U8 baseShow, baseStands;
  U8 value;  // the last one that came with an event
};

static LAMPLOOM_SMALL ShowData eventRow(ShowData data, U8 event) {
  return data + (uint16_t)read16(data + headerEvents) + (uint16_t)multiply8(event, eventSize);
}
static LAMPLOOM_SMALL U8 showOf(ShowData data, const Director &director, U8 event) {
  return event == noEvent ? director.baseShow : read8(eventRow(data, event) + eventShow);
}
static LAMPLOOM_SMALL U32 lengthOf(ShowData data, U8 show) { return read32(tableEntry(data, headerShows, (U16)show) + showLengthMs); }
/** All plays of an event's show together, ms; 0: without end. */
static LAMPLOOM_SMALL U32 playsMs(ShowData data, U8 event) {
  if (event == noEvent) return 0;
  ShowData row = eventRow(data, event);
  return multiply32((U32)read8(row + eventPlays), lengthOf(data, read8(row + eventShow)));
}

/** The base show from frame 0 on. */
static LAMPLOOM_SMALL void directorBegin(Director &director, U8 startShow) {
  director.frame = director.playingMs = 0;
  director.fadedMs = director.fadeMs = 0;
  for (uint8_t i = 0; i < mostDeaf; i++) director.deafMs[i] = 0;
  for (uint8_t i = 0; i < eventPlaces; i++) director.events[i] = noEvent;
  for (uint8_t i = 0; i < mostDelayed; i++) director.delayed[i].event = noEvent;
  director.outgoing = noEvent;
#ifndef __AVR__
  director.sinceFrame = 0;
#endif
  director.baseShow = startShow;
  director.baseStands = director.value = 0;
}

/** Lets frames pass during which nothing changes. */
static LAMPLOOM_SMALL void passFrames(ShowData data, Director &director, U32 frames) {
  director.frame += frames;
  const U32 ms = multiply32(frames, (U32)read8(data + headerFrameMs));
  director.playingMs += ms;
  director.outgoingMs += ms;
  if (!director.baseStands) director.baseMs += ms;
  const U16 fewMs = ms > 65535u ? (U16)65535u : (U16)ms;
  director.fadedMs = addSaturating16(director.fadedMs, fewMs);
  for (uint8_t i = 0; i < mostDeaf; i++) {
    U16 &deafMs = director.deafMs[i];
    deafMs = deafMs > fewMs ? subtract16(deafMs, fewMs) : (U16)0;
  }
}

/** From this frame on `event`, at a time since its time 0; what played until now is faded out. */
static LAMPLOOM_SMALL void change(ShowData data, Director &director, U8 event, U32 ms, U16 fadeMs) {
  director.outgoing = director.events[playing];
  director.outgoingMs = director.playingMs;
  director.events[playing] = event;
  director.playingMs = ms;
  director.fadeMs = fadeMs;
  director.fadedMs = 0;
#ifndef __AVR__
  director.sinceFrame = director.frame;
#endif
  if (event == noEvent) return;
  ShowData row = eventRow(data, event);
  // Behind a show without end that does not resume, nothing comes back.
  if (!read8(row + eventPlays) && !(read8(row + eventFlags) & eventResumes)) director.events[aside] = director.events[aside + 1] = noEvent;
}

/** The last play is over: the next that waits, else what was put aside, else the base show. */
static LAMPLOOM_SMALL void leave(ShowData data, Director &director) {
  U8 *const events = director.events;
  U8 next = events[waiting], row = events[playing];
  U32 ms = 0;
  if (next != noEvent) {
    row = next;
    for (uint8_t i = waiting; i < eventPlaces - 1; i++) events[i] = events[i + 1];
    events[eventPlaces - 1] = noEvent;
  } else if (events[aside] != noEvent) {
    next = (U8)(events[aside] & (uint8_t)(goesOn - 1));
    if (events[aside] & goesOn) ms = director.asideMs[0];
    events[aside] = events[aside + 1];
    director.asideMs[0] = director.asideMs[1];
    events[aside + 1] = noEvent;
  } else {
    ms = director.baseMs;
  }
  change(data, director, next, ms, read16(eventRow(data, row) + eventCrossfadeMs));
}

/** Behind all that wait with the same or a higher priority; where the queue is full, the last one falls out. */
static LAMPLOOM_SMALL void queueUp(ShowData data, Director &director, U8 event, U8 priority) {
  uint8_t place = waiting;
  while (place < eventPlaces && director.events[place] != noEvent &&
         read8(eventRow(data, director.events[place]) + eventPriority) >= priority)
    place++;
  for (; place < eventPlaces; place++) {
    const U8 next = director.events[place];
    director.events[place] = event;
    event = next;
  }
}

/** Puts what plays aside; where there is no room, the oldest is forgotten. */
static LAMPLOOM_SMALL void putAside(Director &director, bool resumes) {
  U8 *const events = director.events;
  events[aside + 1] = events[aside];
  director.asideMs[1] = director.asideMs[0];
  events[aside] = resumes ? (U8)(events[playing] | goesOn) : events[playing];
  director.asideMs[0] = director.playingMs;
}

/** Whether an event within its retrigger limit is not heard; if it is heard, its limit begins. */
static LAMPLOOM_SMALL bool isDeafTo(ShowData data, Director &director, U8 event) {
  uint8_t freest = 0;
  for (uint8_t i = 0; i < mostDeaf; i++) {
    if (director.deafMs[i] && director.deafEvents[i] == event) return true;
    if (director.deafMs[i] < director.deafMs[freest]) freest = i;
  }
  const U16 limitMs = read16(eventRow(data, event) + eventRetriggerMs);
  if (limitMs) {
    director.deafEvents[freest] = event;
    director.deafMs[freest] = limitMs;
  }
  return false;
}

/** Whether a show plays, waits, is put aside, or is the base show. */
static LAMPLOOM_SMALL bool isUnderWay(ShowData data, const Director &director, U8 show) {
  if (show == director.baseShow) return true;
  for (uint8_t i = 0; i < eventPlaces; i++) {
    const U8 event = director.events[i];
    if (event != noEvent && read8(eventRow(data, (U8)(event & (uint8_t)(goesOn - 1))) + eventShow) == show) return true;
  }
  return false;
}

/** An event counts from the frame on to which the director has come. */
static LAMPLOOM_SMALL void eventCounts(ShowData data, Director &director, U8 event) {
  ShowData row = eventRow(data, event);
  const U8 flags = read8(row + eventFlags), priority = read8(row + eventPriority);
  const bool resumes = (flags & eventResumes) != 0;
  if ((flags & eventHasValue) && isUnderWay(data, director, read8(row + eventShow))) return;
  const U8 against = director.events[playing];
  if (against == noEvent) {
    director.baseStands = resumes ? (U8)1 : (U8)0;
    director.baseMs = director.playingMs;
  } else {
    ShowData other = eventRow(data, against);
    const bool ends = read8(other + eventPlays) != 0, isLower = priority < read8(other + eventPriority);
    if ((flags & eventQueues) && (isLower || ends)) {
      queueUp(data, director, event, priority);
      return;
    }
    if (isLower) return;
    if (event != against && (ends || resumes)) putAside(director, resumes);
  }
  change(data, director, event, 0, read16(row + eventCrossfadeMs));
}

/** An event counts in so many frames, behind those that count by then. There must be room for it. */
static LAMPLOOM_SMALL void delayEvent(Director &director, U8 event, U16 frames) {
  Delayed *at = director.delayed;
  for (; at->event != noEvent && at->frames <= frames; at++) frames = subtract16(frames, at->frames);
  if (at->event != noEvent) at->frames = subtract16(at->frames, frames);
  for (Delayed *last = director.delayed + mostDelayed - 1; last != at; last--) *last = *(last - 1);
  at->event = event;
  at->frames = frames;
}

/** Comes to `frame`; on the way ends what ends at or before it, then lets count whose delay is over, each at its own frame. */
static LAMPLOOM_SMALL void comeTo(ShowData data, Director &director, U32 frame) {
  Delayed *const delayed = director.delayed;
  while (director.frame != frame) {
    const U32 whole = playsMs(data, director.events[playing]);
    const bool isDelayed = delayed->event != noEvent;
    passFrames(data, director, whole || isDelayed ? (U32)1 : (U32)(frame - director.frame));
    if (whole && director.playingMs >= whole) leave(data, director);
    if (isDelayed) delayed->frames = subtract16(delayed->frames, 1);
    while (delayed->event != noEvent && !delayed->frames) {
      const U8 event = delayed->event;
      for (uint8_t i = 0; i < mostDelayed - 1; i++) delayed[i] = delayed[i + 1];
      delayed[mostDelayed - 1].event = noEvent;
      eventCounts(data, director, event);
    }
  }
}

/**
 * An event that is heard at `frame`, not earlier than any frame given before, and counts from there on, or when its delay is over. `value` is taken where
 * the event has one; to leave the value as it is, give `director.value`. A number that is no event is not heard.
 */
static LAMPLOOM_SMALL void directorHear(ShowData data, Director &director, U8 event, U8 value, U32 frame) {
  comeTo(data, director, frame);
  if (event >= read8(data + headerEventCount)) return;
  ShowData row = eventRow(data, event);
  if (read8(row + eventFlags) & eventHasValue) director.value = value;
  if (isDeafTo(data, director, event)) return;
  const U16 frames = read16(row + eventDelayFrames);
  if (frames && director.delayed[mostDelayed - 1].event == noEvent) delayEvent(director, event, frames);
  else eventCounts(data, director, event);
}

/** A show at a time since its time 0: it repeats, but after an event's last play it stays at its last millisecond. */
static LAMPLOOM_SMALL void layerAt(ShowData data, const Director &director, U8 event, U32 ms, U8 master, Layer &layer) {
  layer.show = showOf(data, director, event);
  layer.master = master;
  const U32 whole = playsMs(data, event);
  if (whole && ms >= whole) ms = (U32)(whole - 1u);
  layer.timeMs = (U32)(ms % lengthOf(data, layer.show));
}

/** What plays at `frame`, not earlier than any frame given before: one layer, or two during a crossfade, in the order in which they are drawn. */
static LAMPLOOM_SMALL uint8_t directorFrame(ShowData data, Director &director, U32 frame, Layer *layers) {
  comeTo(data, director, frame);
  U8 share = 255;
  uint8_t count = 0;
  if (director.fadedMs < director.fadeMs) {
    share = (U8)(U32)((U32)((U32)director.fadedMs * 255u) / (U32)director.fadeMs);
    layerAt(data, director, director.outgoing, director.outgoingMs, invert8(share), layers[count++]);
  }
  layerAt(data, director, director.events[playing], director.playingMs, share, layers[count++]);
  return count;
}

}  // namespace lamploom
