// Programs that fill a whole target, and their uniforms by name.
// A shader that doesn't compile is our own fault, unless the context was lost meanwhile: then everything fails and is built again later.
import { coverAll } from './webgl-shaders.ts';

export interface Program {
  /** Makes it the one in use; the setters below then act on it. */
  readonly use: () => void;
  readonly place: (uniform: string) => WebGLUniformLocation | null;
  /** Runs it over the whole of the current target. */
  readonly fill: () => void;
  readonly dispose: () => void;
}

function compiled(gl: WebGL2RenderingContext, type: number, source: string): WebGLShader | null {
  const shader = gl.createShader(type);
  if (!shader) return null;
  gl.shaderSource(shader, source);
  gl.compileShader(shader);
  if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS) && !gl.isContextLost())
    throw new Error(`a shader does not compile: ${gl.getShaderInfoLog(shader)}`);
  return shader;
}

export function fillProgram(gl: WebGL2RenderingContext, fragmentSource: string): Program {
  const program = gl.createProgram();
  const shaders = [
    compiled(gl, gl.VERTEX_SHADER, coverAll),
    compiled(gl, gl.FRAGMENT_SHADER, fragmentSource),
  ];
  for (const shader of shaders) if (shader) gl.attachShader(program, shader);
  gl.linkProgram(program);
  for (const shader of shaders) gl.deleteShader(shader);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost())
    throw new Error(`a program does not link: ${gl.getProgramInfoLog(program)}`);
  const places = new Map<string, WebGLUniformLocation | null>();
  return {
    use: () => gl.useProgram(program),
    place: (uniform) => {
      if (!places.has(uniform)) places.set(uniform, gl.getUniformLocation(program, uniform));
      return places.get(uniform)!;
    },
    fill: () => gl.drawArrays(gl.TRIANGLES, 0, 3),
    dispose: () => gl.deleteProgram(program),
  };
}

/** A texture that is read texel by texel or between texels, never beyond its edge. */
export function texture(gl: WebGL2RenderingContext, minFilter: number, magFilter: number): WebGLTexture {
  const made = gl.createTexture();
  gl.bindTexture(gl.TEXTURE_2D, made);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, minFilter);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, magFilter);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE);
  return made;
}

/** A target that draws into a texture. Leaves it bound. */
export function targetOf(gl: WebGL2RenderingContext, into: WebGLTexture): WebGLFramebuffer {
  const target = gl.createFramebuffer();
  gl.bindFramebuffer(gl.FRAMEBUFFER, target);
  gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, into, 0);
  return target;
}
