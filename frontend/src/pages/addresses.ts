import type { Role } from "$lib/api/shapes";

/** Where a repair is opened: at the bench, or at the desk. */
export function repairAddress(id: string, role: Role | undefined): string {
  return role === "desk" ? `/app/desk/repairs/${id}` : `/app/repairs/${id}`;
}
