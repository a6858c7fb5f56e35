export function readQuery(search: string): URLSearchParams {
  return new URLSearchParams(search);
}
