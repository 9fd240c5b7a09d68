export * from './fields.tsx';
export * from './number-field.tsx';
