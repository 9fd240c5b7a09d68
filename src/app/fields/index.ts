export * from './checked-text-field.tsx';
export * from './fields.tsx';
export * from './number-field.tsx';
export * from './refusals.ts';
