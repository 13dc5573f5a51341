'use client';
/**
 * A form that works without scripts: it posts to a server action and is drawn again with what was typed and what to mend.
 * Fields are plain data, so that a server page can describe a form whole.
 */
import { type ReactNode, useActionState, useId } from 'react';

export interface FieldSpec {
  name: string;
  label: string;
  type?: 'text' | 'email' | 'password' | 'select' | 'hidden' | 'date' | 'number' | 'area';
  value?: string;
  hint?: string;
  options?: { value: string; label: string }[];
  autoComplete?: string;
  required?: boolean;
}
export interface FormState {
  values?: Record<string, string>;
  errors?: Record<string, string>; // by field name
  message?: string; // what went wrong as a whole
  done?: string; // what was done
  /** Something to take away that is shown once: a link or a token. */
  keep?: { label: string; text: string };
}
export type FormAction = (before: FormState, data: FormData) => Promise<FormState>;

export function ActionForm({
  action,
  fields,
  submit,
  quiet,
}: {
  action: FormAction;
  fields: FieldSpec[];
  submit: ReactNode;
  quiet?: boolean;
}) {
  const [state, run] = useActionState(action, {});
  const id = useId();
  return (
    <form action={run} className={quiet ? 'form quiet' : 'form'}>
      {state.message && (
        <p className="form-message" role="alert">
          {state.message}
        </p>
      )}
      {state.done && (
        <p className="form-done" role="status">
          {state.done}
        </p>
      )}
      {state.keep && (
        <p className="form-keep">
          <span>{state.keep.label}</span>
          <input readOnly value={state.keep.text} aria-label={state.keep.label} data-copy />
        </p>
      )}
      {fields.map((field) => (
        <FormField
          key={field.name}
          field={field}
          id={`${id}-${field.name}`}
          value={state.values?.[field.name] ?? field.value}
          error={state.errors?.[field.name]}
        />
      ))}
      <button type="submit" className={quiet ? 'btn' : 'btn fill'}>
        {submit}
      </button>
    </form>
  );
}

function FormField({ field, id, value, error }: { field: FieldSpec; id: string; value?: string; error?: string }) {
  if (field.type === 'hidden') return <input type="hidden" name={field.name} value={value ?? ''} />;
  const shared = {
    id,
    name: field.name,
    defaultValue: value,
    required: field.required,
    autoComplete: field.autoComplete,
    'aria-invalid': error ? true : undefined,
    'aria-describedby': error ? `${id}-error` : field.hint ? `${id}-hint` : undefined,
  };
  return (
    <p className="form-field">
      <label htmlFor={id}>{field.label}</label>
      {field.type === 'select' ? (
        <select {...shared}>
          {field.options?.map((o) => (
            <option key={o.value} value={o.value}>
              {o.label}
            </option>
          ))}
        </select>
      ) : field.type === 'area' ? (
        <textarea {...shared} rows={4} />
      ) : (
        <input {...shared} type={field.type ?? 'text'} />
      )}
      {field.hint && (
        <span className="form-hint" id={`${id}-hint`}>
          {field.hint}
        </span>
      )}
      {error && (
        <span className="form-error" id={`${id}-error`}>
          {error}
        </span>
      )}
    </p>
  );
}
