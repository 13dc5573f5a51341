/** Errors as RFC 9457 problems: what happened, and for each field what to mend. */
export interface FieldError {
  field: string;
  message: string;
  mend: string;
}
export interface Problem {
  title: string;
  status: number;
  detail: string;
  errors?: FieldError[];
}

/** Thrown by an endpoint's handler to answer with a problem. */
export class ProblemError extends Error {
  constructor(readonly problem: Problem) {
    super(problem.detail);
  }
}

const titles: Record<number, string> = {
  400: 'That can’t be read',
  401: 'Sign in first',
  403: 'Not allowed',
  404: 'Not here',
  409: 'Changed meanwhile',
  413: 'Too large',
  415: 'Not in this form',
  422: 'Something to mend',
  500: 'Something broke here',
};
export const problem = (status: number, detail: string, errors?: FieldError[]) =>
  new ProblemError({ title: titles[status] ?? 'Refused', status, detail, ...(errors ? { errors } : {}) });

export const respond = ({ problem: body }: ProblemError) =>
  Response.json(body, {
    status: body.status,
    headers: {
      'content-type': 'application/problem+json',
      'cache-control': 'no-store',
      ...(body.status === 401 ? { 'www-authenticate': 'Bearer' } : {}), // RFC 9110 § 15.5.2 asks for it
    },
  });
