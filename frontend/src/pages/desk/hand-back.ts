import type { Piece, Repair } from "$lib/api/shapes";
import type { Signature } from "./signature";

export const piecesHere = (repair: Repair): Piece[] =>
  repair.unit.pieces.filter((piece) => piece.state === "here");

/** Leaves unrepaired, so somebody must vouch that it is closed up and labelled. */
export const needsClosedUp = (repair: Repair): boolean => repair.stage !== "ready" && !repair.closed_up_at;

export interface HandingBack {
  id: string;
  ticked: string[];
  missing_reason: string;
  closed_up: boolean;
  signature: Signature | null;
}
export type HandBackWrong = "missing_reason" | "closed_up" | null;

/** The first thing that stands in the way, before anything is sent. */
export function handBackWrong(repair: Repair, given: HandingBack): HandBackWrong {
  const missing = piecesHere(repair).some((piece) => !given.ticked.includes(piece.code));
  if (missing && !given.missing_reason.trim()) return "missing_reason";
  return needsClosedUp(repair) && !given.closed_up ? "closed_up" : null;
}

export function handBackBody(given: HandingBack): Record<string, unknown> {
  const { id, ticked, missing_reason, closed_up, signature } = given;
  return { id, pieces: ticked, missing_reason: missing_reason.trim(), is_closed_up: closed_up, signature };
}
