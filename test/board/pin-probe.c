/* Runs a .hex file on one of simavr's chips and reports what chosen pins did: every edge, and the LED frames in them.
 * Not here: judging. Its bit decoder is the second one, written apart from wire-decoder.ts; a test compares the two.
 * simavr raises a pin's signal while an instruction runs and adds the instruction's cycles afterwards, so an edge
 * carries its instruction's first cycle: exact to the instruction, not to the cycle within it. What a timer drives
 * by itself is not seen (levels are read from PORT and DDR, which is what the firmware uses for LED data).
 *
 * pin-probe CHIP HEX EDGES FRAMES MAX_CYCLES LATCH_CYCLES START HEARD WATCHED PIN...
 * PIN: at most 8 pins by port and bit: D6. START: address of the first instruction. HEARD: bytes in hex that come over the first serial
 * port, one a millisecond from 50 ms on; - for none. WATCHED: data address of a register whose value at the end is reported.
 * EDGES receives one number per edge, 7 bits a byte, low bits first, top bit = more follows:
 *     (cycles since the edge before) << 4 | line << 1 | level
 * stdout receives lines of words; `frame LINE START END STRAY_BITS HEX` and others, see report().
 */
#include <simavr/avr_ioport.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_hex.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MAX_LINES = 8, PAINT = 0xc5 };
#define CLOCK_HZ 16000000
/* The chip reads its input about 9 cycles (562.5 ns) after the rising edge. */
#define SAMPLE_AFTER_CYCLES 9
/* 0.05 ms between looks at whether the run is done; simavr runs freely in between. */
#define SLICE_CYCLES 800

struct range { uint64_t least, most, count; };

struct line {
    int bit, ddr_address, port_address, number;
    int level;
    int driven_first_high;            /* -1 until the pin is first driven */
    uint64_t first_driven, rose, fell;
    int sampled;                      /* the bit that the last high time meant, -1 before any */
    uint8_t *bits;                    /* one bit per entry, of the frame that is open */
    size_t bit_count, bit_room;
    uint64_t frame_start;
    long frame_count;
    struct range high[2], low[2], latch;
};

static avr_t *avr;
static FILE *edges;
static struct line lines[MAX_LINES];
static int line_count;
static uint64_t latch_cycles, last_edge;
static void (*core_reset)(struct avr_t *);
static char serial;                       /* simavr's name of the first serial port */
static const char *heard = "";
static uint8_t sent[4096];
static size_t sent_count;
static uint64_t reset_cycle;              /* of the watchdog's first reset, 0 before any */

static void fail(const char *what, const char *detail) {
    fprintf(stderr, "pin-probe: %s %s\n", what, detail);
    exit(2);
}

static void note(struct range *range, uint64_t cycles) {
    if (range->count == 0 || cycles < range->least) range->least = cycles;
    if (cycles > range->most) range->most = cycles;
    range->count++;
}

static void write_edge(const struct line *line, int level) {
    uint64_t word = (avr->cycle - last_edge) << 4 | (uint64_t)line->number << 1 | (uint64_t)level;
    last_edge = avr->cycle;
    while (word >= 0x80) {
        fputc((int)(word & 0x7f) | 0x80, edges);
        word >>= 7;
    }
    fputc((int)word, edges);
}

static void print_frame(struct line *line) {
    if (line->bit_count == 0) return;
    printf("frame %d %" PRIu64 " %" PRIu64 " %zu ", line->number, line->frame_start, line->fell, line->bit_count % 8);
    for (size_t first = 0; first + 8 <= line->bit_count; first += 8) {
        unsigned value = 0;
        for (size_t i = 0; i < 8; i++) value = value * 2 + line->bits[first + i];
        printf("%02x", value);
    }
    putchar('\n');
    line->bit_count = 0;
    line->frame_count++;
}

static void on_rise(struct line *line) {
    uint64_t low = avr->cycle - line->fell;
    line->rose = avr->cycle;
    if (line->sampled >= 0 && low >= latch_cycles) {
        print_frame(line);
        note(&line->latch, low);
    } else if (line->sampled >= 0) {
        note(&line->low[line->sampled], low);
    }
    if (line->bit_count == 0) line->frame_start = avr->cycle;
}

static void on_fall(struct line *line) {
    uint64_t high = avr->cycle - line->rose;
    line->fell = avr->cycle;
    line->sampled = line->rose + SAMPLE_AFTER_CYCLES < avr->cycle;
    note(&line->high[line->sampled], high);
    if (line->bit_count == line->bit_room) {
        line->bit_room = line->bit_room ? 2 * line->bit_room : 1024;
        line->bits = realloc(line->bits, line->bit_room);
        if (!line->bits) fail("out of memory", "");
    }
    line->bits[line->bit_count++] = (uint8_t)line->sampled;
}

static void look_at(struct line *line, uint8_t ddr) {
    int is_output = ddr >> line->bit & 1;
    int level = is_output && (avr->data[line->port_address] >> line->bit & 1);
    if (is_output && line->driven_first_high < 0) {
        line->driven_first_high = level;
        line->first_driven = avr->cycle;
    }
    if (level == line->level) return;
    line->level = level;
    write_edge(line, level);
    if (level) on_rise(line);
    else on_fall(line);
}

static void on_pin(struct avr_irq_t *irq, uint32_t value, void *param) {
    struct line *line = param;
    (void)irq, (void)value;
    look_at(line, avr->data[line->ddr_address]);
}

/* Raised before simavr stores the new directions, so they come as the value. */
static void on_direction(struct avr_irq_t *irq, uint32_t value, void *param) {
    (void)irq;
    look_at(param, (uint8_t)value);
}

static void add_line(const char *text) {
    struct line *line = &lines[line_count];
    /* In the order of their addresses. Register summaries of the chips' datasheets: PINx, DDRx, PORTx follow each other; PINA is at data
     * address 0x20 where there is one, PINH at 0x100. */
    static const char ports[] = "ABCDEFGHJKL";
    const char *place = strlen(text) == 2 ? strchr(ports, text[0]) : NULL;
    char port = text[0];
    if (!place || text[1] < '0' || text[1] > '7') fail("no such pin:", text);
    line->number = line_count++;
    line->bit = text[1] - '0';
    line->ddr_address = port < 'H' ? 0x21 + 3 * (int)(place - ports) : 0x101 + 3 * (int)(place - strchr(ports, 'H'));
    line->port_address = line->ddr_address + 1;
    line->sampled = line->driven_first_high = -1;
    if (!avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(port), 0)) fail("the chip has no such port:", text);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(port), IOPORT_IRQ_PIN0 + line->bit), on_pin, line);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(port), IOPORT_IRQ_DIRECTION_ALL), on_direction,
                            line);
}

static void load(const char *path) {
    ihex_chunk_p chunks = NULL;
    int count = read_ihex_chunks(path, &chunks);
    if (count <= 0) fail("cannot read", path);
    for (int i = 0; i < count; i++) {
        if (chunks[i].baseaddr + chunks[i].size > avr->flashend + 1) fail("past the end of flash:", path);
        memcpy(avr->flash + chunks[i].baseaddr, chunks[i].data, chunks[i].size);
    }
    avr->codeend = avr->flashend;
    free_ihex_chunks(chunks);
}

static void stay_quiet(avr_t *which, const int level, const char *format, va_list arguments) {
    (void)which;
    if (level == LOG_ERROR) vfprintf(stderr, format, arguments);
}

/* simavr would really sleep while the chip does. */
static void never_sleep(avr_t *which, avr_cycle_count_t how_long) { (void)which, (void)how_long; }

/* After its start simavr resets the chip for one reason only: the watchdog. It would go on; this run ends there. */
static void on_reset(avr_t *which) {
    if (reset_cycle == 0) reset_cycle = which->cycle;
    if (core_reset) core_reset(which);
}

static void on_sent(struct avr_irq_t *irq, uint32_t value, void *param) {
    (void)irq, (void)param;
    if (sent_count < sizeof sent) sent[sent_count++] = (uint8_t)value;
}

static avr_cycle_count_t hear(avr_t *which, avr_cycle_count_t when, void *param) {
    unsigned byte;
    (void)which, (void)param;
    if (sscanf(heard, "%2x", &byte) != 1) return 0;
    heard += 2;
    /* simavr lets a write to UCSRnA clear UDREn, which is read-only on the chip (datasheets, USART registers), and nothing was sent yet. */
    if (sent_count == 0) avr->data[serial == '0' ? 0xc0 : 0xc8] |= 1 << 5;
    avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ(serial), UART_IRQ_INPUT), byte);
    return when + CLOCK_HZ / 1000;
}

/* The first serial port of a chip is number 0, or 1 where there is one only, as on the ATmega32U4. */
static void connect_serial(const char *bytes) {
    uint32_t no_flags = 0;
    serial = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), 0) ? '0' : '1';
    /* Else simavr copies the serial port to stdout and really sleeps while it is polled. */
    avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS(serial), &no_flags);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ(serial), UART_IRQ_OUTPUT), on_sent, NULL);
    if (strcmp(bytes, "-") == 0) return;
    heard = bytes;
    avr_cycle_timer_register(avr, CLOCK_HZ / 20, hear, NULL);
}

static void print_range(const struct line *line, const char *name, const struct range *range) {
    printf("pulse %d %s %" PRIu64 " %" PRIu64 " %" PRIu64 "\n", line->number, name, range->least, range->most,
           range->count);
}

static int sram_first(void) { return avr->ioend + 1; }

static void report(int state, int watched) {
    int longest = 0, run = 0;
    for (int i = 0; i < line_count; i++) {
        struct line *line = &lines[i];
        print_range(line, "T0H", &line->high[0]);
        print_range(line, "T1H", &line->high[1]);
        print_range(line, "T0L", &line->low[0]);
        print_range(line, "T1L", &line->low[1]);
        print_range(line, "latch", &line->latch);
        printf("driven %d %d %" PRIu64 "\n", line->number, line->driven_first_high, line->first_driven);
    }
    for (int address = sram_first(); address <= avr->ramend; address++) {
        run = avr->data[address] == PAINT ? run + 1 : 0;
        if (run > longest) longest = run;
    }
    printf("sent ");
    for (size_t i = 0; i < sent_count; i++) printf("%02x", sent[i]);
    printf("\nregister %d\n", avr->data[watched]);
    printf("end %" PRIu64 " %d %d %" PRIu64 "\n", (uint64_t)avr->cycle, longest, state == cpu_Crashed, reset_cycle);
}

static int all_have(long frames) {
    for (int i = 0; i < line_count; i++)
        if (lines[i].frame_count < frames) return 0;
    return 1;
}

int main(int argc, char **argv) {
    uint64_t max_cycles;
    long frames;
    int state = cpu_Running;
    if (argc < 11 || argc > 10 + MAX_LINES)
        fail("wants", "CHIP HEX EDGES FRAMES MAX_CYCLES LATCH_CYCLES START HEARD WATCHED PIN...");
    frames = strtol(argv[4], NULL, 10);
    max_cycles = strtoull(argv[5], NULL, 10);
    latch_cycles = strtoull(argv[6], NULL, 10);
    avr_global_logger_set(stay_quiet);
    avr = avr_make_mcu_by_name(argv[1]);
    if (!avr) fail("simavr does not know", argv[1]);
    avr_init(avr);
    avr->frequency = CLOCK_HZ;
    avr->sleep = never_sleep;
    core_reset = avr->reset;
    avr->reset = on_reset;
    avr->run_cycle_limit = SLICE_CYCLES;
    connect_serial(argv[8]);
    load(argv[2]);
    avr->pc = strtoul(argv[7], NULL, 0);
    memset(avr->data + sram_first(), PAINT, avr->ramend - sram_first() + 1);
    edges = fopen(argv[3], "wb");
    if (!edges) fail("cannot write", argv[3]);
    for (int i = 10; i < argc; i++) add_line(argv[i]);

    while (avr->cycle < max_cycles && !all_have(frames) && !reset_cycle && state != cpu_Done && state != cpu_Crashed) {
        state = avr_run(avr);
        for (int i = 0; i < line_count; i++)
            if (!lines[i].level && avr->cycle - lines[i].fell >= latch_cycles) print_frame(&lines[i]);
    }
    report(state, atoi(argv[9]));
    if (fclose(edges) != 0) fail("cannot write", argv[3]);
    return 0;
}
