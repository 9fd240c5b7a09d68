// Builds the page, and lets tests and the command line load the same sources. The validators of files are generated here from their schemas,
// because a content security policy without eval forbids doing so in the page.
import react from '@vitejs/plugin-react';
import { Ajv } from 'ajv';
import standalone from 'ajv/dist/standalone/index.js';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { projectSchema } from './src/project/schema.ts';
import { packSchema } from './src/project/schema-pack.ts';

const validated: ReadonlyMap<string, object> = new Map<string, object>([
  ['virtual:project-validator', projectSchema],
  ['virtual:pack-validator', packSchema],
]);

function fileValidators(): Plugin {
  return {
    name: 'file-validators',
    resolveId: (id) => (validated.has(id) ? `\0${id}` : undefined),
    load(id) {
      const schema = id.startsWith('\0') ? validated.get(id.slice(1)) : undefined;
      if (!schema) return undefined;
      const ajv = new Ajv({
        code: { source: true, esm: true, lines: true },
        strict: true,
        strictTypes: false,
        strictRequired: false,
        allErrors: true,
        discriminator: true,
      });
      // The package is CommonJS: its function is the module itself or its default export, by loader.
      const loaded: unknown = standalone;
      const generate = (
        typeof loaded === 'function' ? loaded : (loaded as { default: unknown }).default
      ) as typeof standalone;
      const imports: string[] = [];
      const code = generate(ajv, ajv.compile(schema)).replace(
        /require\("(ajv\/dist\/runtime\/[^"]+)"\)\.default/g,
        (_: string, path: string) => {
          const name = `runtime${imports.length}`;
          imports.push(
            `import ${name}Module from "${path}.js";\nconst ${name} = ${name}Module.default ?? ${name}Module;`,
          );
          return name;
        },
      );
      return `${imports.join('\n')}\n${code}`;
    },
  };
}

/** Parts of the PDF library for web pages and drawings, which it would load if it were asked to print such; nothing asks. */
const unusedByPdf: ReadonlySet<string> = new Set(['html2canvas', 'canvg', 'dompurify']);

function withoutUnused(): Plugin {
  return {
    name: 'without-unused',
    enforce: 'pre',
    resolveId: (id) => (unusedByPdf.has(id) ? '\0unused-by-pdf' : undefined),
    load: (id) => (id === '\0unused-by-pdf' ? 'export default undefined;' : undefined),
  };
}

export const contentSecurityPolicy = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  // The hash lets the component library set 'touch-action' on pressable things by its one style element.
  "style-src 'self' 'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='",
  "img-src 'self' blob:",
  "media-src 'self' blob:",
  "connect-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

export default defineConfig({
  plugins: [fileValidators(), withoutUnused(), react()],
  worker: { format: 'es', plugins: () => [fileValidators()] },
  build: { target: 'es2023', assetsInlineLimit: 0 },
  preview: {
    headers: { 'Content-Security-Policy': contentSecurityPolicy, 'X-Content-Type-Options': 'nosniff' },
  },
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/browser/**', 'node_modules/**'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // Left to itself it leaves one processor free, which on two is half of them.
    maxWorkers: 2,
    reporters: ['default'],
  },
});
