// The shaders of the WebGL renderer. Each states the same formula as a file of the reference: light behind the sheet (diffuser.ts,
// spread-kernel.ts), ink (ink.ts), the picture (picture.ts, viewing.ts, screen.ts). Places are millimetres on the panel, y down.
// Not here: programs, textures and the order of passes (webgl-program.ts, webgl-light.ts, webgl-ink.ts, webgl-renderer.ts).
import { mostPlanes } from './regions.ts';
import { shoulderFrom } from './screen.ts';
import { spreadSteps } from './spread-kernel.ts';

/** LEDs stand in rows of so many in their texture, two texels each: place, then flux. */
export const ledsPerTextureRow = 256;

const head = `#version 300 es
precision highp float;
precision highp int;
precision highp sampler2D;
`;

/** One triangle that covers everything; no vertices needed. */
export const coverAll = `#version 300 es
void main() {
  gl_Position = vec4(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0, 0.0, 1.0);
}
`;

/**
 * Every texel sums all LEDs that shine. Blending a quad for each LED would be the other way; it needs more of the graphics card (blending of
 * 32-bit floats), and 16-bit sums would swallow the shares of distant LEDs.
 */
export const lightShader = `${head}
uniform sampler2D leds;
uniform int ledCount;
uniform vec2 firstMm;
uniform vec2 cellMm;
uniform float gapMm2;
uniform float spreadTable[${spreadSteps + 1}];
out vec4 light;

void main() {
  vec2 hereMm = firstMm + gl_FragCoord.xy * cellMm;
  vec3 sum = vec3(0.0);
  for (int led = 0; led < ledCount; led++) {
    ivec2 texel = ivec2(2 * (led % ${ledsPerTextureRow}), led / ${ledsPerTextureRow});
    vec2 acrossMm = hereMm - texelFetch(leds, texel, 0).xy;
    float cosine2 = gapMm2 / (dot(acrossMm, acrossMm) + gapMm2);
    float place = cosine2 * ${spreadSteps}.0;
    int step = min(${spreadSteps - 1}, int(place));
    float spread = mix(spreadTable[step], spreadTable[step + 1], place - float(step));
    sum += texelFetch(leds, texel + ivec2(1, 0), 0).rgb * (cosine2 * cosine2 * spread);
  }
  light = vec4(sum / (${Math.PI} * gapMm2), 1.0);
}
`;

/** Texels of light go by square tiles of so many each way: what a tile's ways are is worked out beforehand. */
export const texelsPerTile = 16;
/** Numbers of ways, tile after tile, stand in rows of so many in their texture. */
export const numbersPerTextureRow = 1024;

/** Regions stand in rows of so many in their texture, a texel for each half plane. */
export const regionsPerTextureRow = 256;

/**
 * The same sum where walls are in the way (light-ways.ts): on the face, by ways instead of LEDs. A way's two texels: place, its first region, how
 * many regions hold it; its flux, how many shadows follow those. A tile's texel: where the numbers of its ways begin, and how many they are.
 */
export const waysShader = `${head}
uniform sampler2D ways;
uniform sampler2D regions;
uniform sampler2D tiles;
uniform sampler2D numbers;
uniform vec2 firstMm;
uniform vec2 cellMm;
uniform float gapMm2;
out vec4 light;

float cover(int region, vec2 hereMm, float softMm) {
  ivec2 texel = ivec2(${mostPlanes} * (region % ${regionsPerTextureRow}), region / ${regionsPerTextureRow});
  float share = 1.0;
  for (int plane = 0; plane < ${mostPlanes}; plane++) {
    vec3 edge = texelFetch(regions, texel + ivec2(plane, 0), 0).xyz;
    share -= clamp(0.5 - (dot(edge.xy, hereMm) - edge.z) / softMm, 0.0, 1.0);
    if (share <= 0.0) return 0.0;
  }
  return share;
}

void main() {
  vec2 hereMm = firstMm + gl_FragCoord.xy * cellMm;
  float softMm = 0.5 * (cellMm.x + cellMm.y);
  vec3 sum = vec3(0.0);
  ivec2 tile = ivec2(texelFetch(tiles, ivec2(gl_FragCoord.xy) / ${texelsPerTile}, 0).xy);
  for (int at = tile.x; at < tile.x + tile.y; at++) {
    int way = int(texelFetch(numbers, ivec2(at % ${numbersPerTextureRow}, at / ${numbersPerTextureRow}), 0).x);
    ivec2 texel = ivec2(2 * (way % ${ledsPerTextureRow}), way / ${ledsPerTextureRow});
    vec4 flux = texelFetch(ways, texel + ivec2(1, 0), 0);
    if (flux.r + flux.g + flux.b == 0.0) continue;
    vec4 place = texelFetch(ways, texel, 0);
    int region = int(place.z);
    int shadows = region + int(place.w);
    int end = shadows + int(flux.w);
    float open = 1.0;
    for (; region < shadows && open > 0.0; region++) open -= 1.0 - cover(region, hereMm, softMm);
    for (; region < end && open > 0.0; region++) open -= cover(region, hereMm, softMm);
    if (open <= 0.0) continue;
    vec2 acrossMm = hereMm - place.xy;
    float cosine2 = gapMm2 / (dot(acrossMm, acrossMm) + gapMm2);
    sum += flux.rgb * (open * cosine2 * cosine2);
  }
  light = vec4(sum / (${Math.PI} * gapMm2), 1.0);
}
`;

/** At most so many texels to each side of the middle of a spot. */
export const mostSpreadTexels = 96;

/** One pass of the sheet's spread (spread.ts), along `towards`. */
export const spreadShader = `${head}
uniform sampler2D light;
uniform ivec2 towards;
uniform int reach;
uniform float kernel[${mostSpreadTexels + 1}];
out vec4 behind;

void main() {
  ivec2 here = ivec2(gl_FragCoord.xy);
  ivec2 last = textureSize(light, 0) - 1;
  vec3 sum = kernel[0] * texelFetch(light, here, 0).rgb;
  for (int k = 1; k <= reach; k++)
    sum += kernel[k] * (texelFetch(light, clamp(here - k * towards, ivec2(0), last), 0).rgb
      + texelFetch(light, clamp(here + k * towards, ivec2(0), last), 0).rgb);
  behind = vec4(sum, 1.0);
}
`;

/** Lays the print on white, in linear light: what is not printed lets everything pass. */
export const inkShader = `${head}
uniform sampler2D artwork;
out vec4 ink;

void main() {
  vec4 print = texelFetch(artwork, ivec2(gl_FragCoord.xy), 0);
  ink = vec4(mix(vec3(1.0), print.rgb, print.a), 1.0);
}
`;

/** Between texels of light runs a Catmull-Rom curve: with straight lines a card would need four times the texels. */
export const pictureShader = `${head}
uniform sampler2D light;
uniform sampler2D ink;
uniform vec2 firstMm;
uniform vec2 cellMm;
uniform vec2 panelMm;
uniform vec2 pixelMm;
uniform vec2 openingMm;
uniform vec2 openingSizeMm;
uniform float through;
uniform float printLight;
uniform float frameLight;
out vec4 colour;

vec4 curve(float t) {
  return vec4(
    t * (-0.5 + t * (1.0 - 0.5 * t)),
    1.0 + t * t * (-2.5 + 1.5 * t),
    t * (0.5 + t * (2.0 - 1.5 * t)),
    t * t * (-0.5 + 0.5 * t)
  );
}

vec3 lightAt(vec2 hereMm) {
  vec2 place = (hereMm - firstMm) / cellMm - 0.5;
  ivec2 before = ivec2(floor(place)) - 1;
  vec4 across = curve(fract(place.x));
  vec4 down = curve(fract(place.y));
  ivec2 last = textureSize(light, 0) - 1;
  vec3 sum = vec3(0.0);
  for (int row = 0; row < 4; row++)
    for (int column = 0; column < 4; column++)
      sum += down[row] * across[column] * texelFetch(light, clamp(before + ivec2(column, row), ivec2(0), last), 0).rgb;
  return max(sum, 0.0);
}

float coverage(vec2 hereMm) {
  vec2 inside = clamp(min(hereMm - openingMm, openingMm + openingSizeMm - hereMm) / pixelMm + 0.5, 0.0, 1.0);
  return inside.x * inside.y;
}

float screen(float seen) {
  float room = ${1 - shoulderFrom};
  float bent = seen <= ${shoulderFrom} ? seen : 1.0 - room * exp((${shoulderFrom} - seen) / room);
  return bent <= 0.0031308 ? 12.92 * bent : 1.055 * pow(bent, 1.0 / 2.4) - 0.055;
}

void main() {
  vec2 hereMm = vec2(gl_FragCoord.x * pixelMm.x, panelMm.y - gl_FragCoord.y * pixelMm.y);
  float open = coverage(hereMm);
  vec3 print = texture(ink, hereMm / panelMm).rgb;
  vec3 seen = (1.0 - open) * frameLight + open * print * (through * lightAt(hereMm) + printLight);
  colour = vec4(screen(seen.r), screen(seen.g), screen(seen.b), 1.0);
}
`;
