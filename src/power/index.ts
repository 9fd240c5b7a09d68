// The power model's public face: network solution, load cases, sizing, findings and report.
export * from './assessment.ts';
export * from './conditions.ts';
export * from './controller.ts';
export * from './findings.ts';
export * from './fuse-conductors.ts';
export * from './fuse-findings.ts';
export * from './fuse-rule.ts';
export * from './load-cases.ts';
export * from './network.ts';
export * from './panel-network.ts';
export * from './panel-solve.ts';
export * from './rail-ratings.ts';
export * from './report.ts';
export * from './sizing.ts';
export * from './starved.ts';
export * from './supplies.ts';
export * from './zones.ts';
