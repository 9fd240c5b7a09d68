// Times the native player: reads show data from a file, renders many frames, prints the nanoseconds of each round.
// Usage: player_time SHOWDATA FRAMES ROUNDS
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include "host.cpp"

static double now() {
  timespec at;
  clock_gettime(CLOCK_MONOTONIC, &at);
  return at.tv_sec * 1e9 + at.tv_nsec;
}

int main(int argc, char **argv) {
  if (argc != 4) return 2;
  FILE *file = fopen(argv[1], "rb");
  if (!file || fread(showDataAt(), 1, mostShowDataBytes, file) == 0) return 1;
  fclose(file);
  const uint32_t frames = (uint32_t)atoi(argv[2]);
  uint32_t sum = renderMany(0, frames);
  for (int round = atoi(argv[3]); round; round--) {
    const double begun = now();
    sum += renderMany(0, frames);
    printf("%.0f\n", now() - begun);
  }
  fprintf(stderr, "%u\n", (unsigned)sum);
  return 0;
}
