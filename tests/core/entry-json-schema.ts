/** The part of JSON Schema (draft 2020-12, core and validation vocabularies) that the published schema uses; anything else is thrown at. */
type Schema = { [keyword: string]: unknown };

const typeOf = (value: unknown): string => (value === null ? 'null' : Array.isArray(value) ? 'array' : typeof value);
const isObject = (value: unknown): value is Record<string, unknown> => typeOf(value) === 'object';

/** What of `value` does not fit, by path; nothing when it is valid. */
export function misfits(root: Schema, value: unknown, schema: Schema = root, path = ''): string[] {
  return Object.entries(schema).flatMap(([keyword, wanted]): string[] => {
    const fails = (bad: boolean) => (bad ? [`${path || '(whole)'}: ${keyword} ${JSON.stringify(wanted)}`] : []);
    const within = (s: unknown, v: unknown, key: string) => misfits(root, v, s as Schema, path ? `${path}.${key}` : key);
    switch (keyword) {
      case '$schema':
      case '$defs':
      case 'title':
      case 'description':
      case 'default':
      case 'format': // an annotation unless a format-assertion vocabulary is used
        return [];
      case '$ref': {
        const target = String(wanted).replace(/^#\//, '').split('/');
        return misfits(root, value, target.reduce<unknown>((at, key) => (at as Schema)[key], root) as Schema, path);
      }
      case 'type':
        return fails(wanted === 'integer' ? !Number.isInteger(value) : typeOf(value) !== wanted);
      case 'const':
        return fails(value !== wanted);
      case 'enum':
        return fails(!(wanted as unknown[]).includes(value));
      case 'anyOf':
        return fails(!(wanted as Schema[]).some((s) => misfits(root, value, s, path).length === 0));
      case 'allOf':
        return (wanted as Schema[]).flatMap((s) => misfits(root, value, s, path));
      case 'required':
        return isObject(value) ? fails((wanted as string[]).some((key) => !(key in value))) : [];
      case 'properties':
        return isObject(value)
          ? Object.entries(wanted as Record<string, Schema>).flatMap(([key, s]) => (key in value ? within(s, value[key], key) : []))
          : [];
      case 'items':
        return Array.isArray(value) ? value.flatMap((v, i) => within(wanted, v, String(i))) : [];
      case 'minItems':
        return Array.isArray(value) ? fails(value.length < Number(wanted)) : [];
      case 'maxItems':
        return Array.isArray(value) ? fails(value.length > Number(wanted)) : [];
      case 'minLength':
        return typeof value === 'string' ? fails([...value].length < Number(wanted)) : [];
      case 'maxLength':
        return typeof value === 'string' ? fails([...value].length > Number(wanted)) : [];
      case 'pattern':
        return typeof value === 'string' ? fails(!new RegExp(String(wanted), 'u').test(value)) : [];
      case 'minimum':
        return typeof value === 'number' ? fails(value < Number(wanted)) : [];
      case 'maximum':
        return typeof value === 'number' ? fails(value > Number(wanted)) : [];
      case 'exclusiveMinimum':
        return typeof value === 'number' ? fails(value <= Number(wanted)) : [];
      case 'exclusiveMaximum':
        return typeof value === 'number' ? fails(value >= Number(wanted)) : [];
      default:
        throw new Error(`the schema uses “${keyword}”, which this reader does not know`);
    }
  });
}
