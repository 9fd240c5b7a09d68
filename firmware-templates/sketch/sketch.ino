// {{project}}: a light show for {{ledCount}} LEDs, board {{board}}, data on {{pins}}.
// Written by Lamploom from the project as saved on {{savedOn}}. It opens and compiles as it is; no library is needed.
// Put code of your own into own-code.h: an export writes all other files of this folder afresh.
// Feed the LED strip from its supply, never through this board's 5 V pin; join the grounds first.
{{quiet}}#include "board_avr.h"
#include "show.h"
#include "own-code.h"

// Three bytes an LED.
static lamploom::U8 frame[{{ledCount}} * 3];

void setup() {
  lamploom::boardBegin(lamploomShow, frame);
  ownSetup();
}

void loop() {
  lamploom::boardStep(lamploomShow, frame);
  ownLoop();
}
