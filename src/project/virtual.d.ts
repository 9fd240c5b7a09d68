declare module 'virtual:project-validator' {
  import type { ErrorObject } from 'ajv';

  const validate: { (value: unknown): boolean; errors?: ErrorObject[] | null };
  export default validate;
}

declare module 'virtual:pack-validator' {
  import type { ErrorObject } from 'ajv';

  const validate: { (value: unknown): boolean; errors?: ErrorObject[] | null };
  export default validate;
}
