import { defineConfig } from '@playwright/test';
export default defineConfig({ testDir: '.', testMatch: 'light.spec.ts', outputDir: '/tmp/pwout', workers: 1, reporter: [['line'],['json',{outputFile:'/tmp/pw.json'}]] });
