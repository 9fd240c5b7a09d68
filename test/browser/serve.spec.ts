// The server of the page: two at once get a port each, a taken port is said in one line, and a signal ends it.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { expect, test } from '@playwright/test';
import { pagePort, root } from './page.ts';

interface Started {
  readonly process: ChildProcess;
  readonly output: () => string;
}

function start(...args: string[]): Started {
  const process = spawn('node', ['src/cli/serve.mjs', ...args], { cwd: root });
  let text = '';
  for (const stream of [process.stdout, process.stderr])
    stream.on('data', (chunk) => {
      text += chunk;
    });
  return { process, output: () => text };
}

const addressIn = (text: string): string | undefined => /http:\/\/127\.0\.0\.1:\d+\//.exec(text)?.[0];

test('two servers started at once serve the page at an address each, until a signal ends them', async () => {
  const servers = [start(), start()];
  try {
    for (const { output } of servers)
      await expect.poll(() => addressIn(output()), { timeout: 20_000 }).toBeDefined();
    const addresses = servers.map(({ output }) => addressIn(output())!);
    expect(new Set(addresses).size).toBe(2);
    for (const address of addresses) expect(await (await fetch(address)).text()).toContain('<title>Lamploom');
    for (const { output } of servers) expect(output().trim().split('\n')).toHaveLength(1);
  } finally {
    for (const { process } of servers) process.kill('SIGINT');
  }
  for (const { process } of servers) expect(process.exitCode ?? (await once(process, 'exit'))[0]).toBe(0);
});

test('a port that is taken or isn’t one is said in one line', async () => {
  for (const [args, status, words] of [
    [['--port', `${pagePort}`], 1, /could not be served/],
    [['--port', 'many'], 2, /--port: expected a number/],
    [['--prot', '1'], 2, /--prot/],
  ] as const) {
    const { process, output } = start(...args);
    const [code] = await once(process, 'exit');
    expect(output()).toMatch(words);
    expect(output().trim().split('\n')).toHaveLength(1);
    expect(code).toBe(status);
  }
});
