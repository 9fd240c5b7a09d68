// Code of your own. Lamploom keeps this file when it writes the sketch again.
// ownSetup() runs once, after the LEDs were set to black. ownLoop() runs after each frame: a few milliseconds may pass in it; a longer
// stay makes the show leave frames out, and one of more than 100 ms makes it lose its place in time. Interrupts are off while a frame goes out, 30 us an LED, so millis() and Serial lose what
// happens meanwhile. Timer1 belongs to the show; so does the serial port where game events come over it, I2C likewise, and EEPROM's last
// byte where there is a room button. Where the watchdog is on, a stay of a second resets the board. While ownLoop() runs no pin is read, so a
// press of an event pin may be missed if it stays longer than 19 ms.
#pragma once

static inline void ownSetup() {}
static inline void ownLoop() {}
