/** Buttons, links that look like them, and fields with label, hint and error. */
import type { ComponentProps, ReactNode } from 'react';

const look = (fill?: boolean, text?: boolean) => (fill ? 'btn fill' : text ? 'btn text' : 'btn');

export function Button({ fill, text, className, ...rest }: ComponentProps<'button'> & { fill?: boolean; text?: boolean }) {
  return <button type="button" {...rest} className={[look(fill, text), className].filter(Boolean).join(' ')} />;
}

/** `warm`: what the next page needs is fetched as soon as somebody reaches for it. */
export function LinkButton({
  href,
  fill,
  text,
  warm,
  children,
}: {
  href: string;
  fill?: boolean;
  text?: boolean;
  warm?: boolean;
  children: ReactNode;
}) {
  return (
    <a href={href} className={look(fill, text)} data-warm={warm ? '' : undefined}>
      {children}
    </a>
  );
}

export interface FieldProps {
  id: string;
  label: string;
  hint?: string;
  error?: string;
  /** Gets id, aria-describedby and aria-invalid to spread on the control. */
  children: (control: { id: string; 'aria-describedby'?: string; 'aria-invalid'?: true }) => ReactNode;
}

/** A label, one control, its hint and what to mend, tied together for every reader. */
export function Field({ id, label, hint, error, children }: FieldProps) {
  const described = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ');
  return (
    <div className="form-field">
      <label htmlFor={id}>{label}</label>
      {children({ id, 'aria-describedby': described || undefined, 'aria-invalid': error ? true : undefined })}
      {hint && (
        <span className="form-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {error && (
        <span className="form-error" id={`${id}-error`}>
          {error}
        </span>
      )}
    </div>
  );
}
