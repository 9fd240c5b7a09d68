// The artwork on the graphics card: a texture of the light that the print lets through, with smaller copies for distant views. It is uploaded
// once for each artwork, laid on white by the card, and kept.
// Not here: drawing an image file into pixels; the page does that.
import { fillProgram, targetOf, texture } from './webgl-program.ts';
import { inkShader } from './webgl-shaders.ts';

/** Pixels of the whole panel, drawn by the page; their colours are not multiplied by alpha when uploaded. */
export interface ArtworkPixels {
  readonly source: TexImageSource;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface InkTexture {
  readonly texture: WebGLTexture;
  readonly dispose: () => void;
}

/** The artwork as a texture in linear light, or one clear texel without artwork. */
export function inkTexture(gl: WebGL2RenderingContext, artwork: ArtworkPixels | undefined): InkTexture {
  const ink = texture(gl, gl.LINEAR_MIPMAP_LINEAR, gl.LINEAR);
  const dispose = () => gl.deleteTexture(ink);
  if (!artwork) {
    const clear = Uint8Array.of(255, 255, 255, 255);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.SRGB8_ALPHA8, 1, 1, 0, gl.RGBA, gl.UNSIGNED_BYTE, clear);
    return { texture: ink, dispose };
  }
  const { source, widthPx, heightPx } = artwork;
  gl.texImage2D(gl.TEXTURE_2D, 0, gl.SRGB8_ALPHA8, widthPx, heightPx, 0, gl.RGBA, gl.UNSIGNED_BYTE, null);
  const target = targetOf(gl, ink);
  const print = texture(gl, gl.NEAREST, gl.NEAREST);
  gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, false);
  gl.pixelStorei(gl.UNPACK_COLORSPACE_CONVERSION_WEBGL, gl.NONE);
  gl.texImage2D(gl.TEXTURE_2D, 0, gl.SRGB8_ALPHA8, gl.RGBA, gl.UNSIGNED_BYTE, source);
  const program = fillProgram(gl, inkShader);
  program.use();
  gl.activeTexture(gl.TEXTURE0);
  gl.uniform1i(program.place('artwork'), 0);
  gl.viewport(0, 0, widthPx, heightPx);
  program.fill();
  program.dispose();
  gl.deleteTexture(print);
  gl.deleteFramebuffer(target);
  gl.bindTexture(gl.TEXTURE_2D, ink);
  gl.generateMipmap(gl.TEXTURE_2D);
  return { texture: ink, dispose };
}
