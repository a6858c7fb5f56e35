import type { StepKind } from "$lib/templates/body";

/** The kinds of step in the order they are offered, each with its icon. Their words are `editor.kind.<kind>`. */
export const KINDS: readonly { kind: StepKind; icon: string }[] = [
  { kind: "caution", icon: "triangle-alert" },
  { kind: "instruction", icon: "wrench" },
  { kind: "look", icon: "eye" },
  { kind: "reading", icon: "gauge" },
  { kind: "table", icon: "table-2" },
  { kind: "ramp", icon: "trending-up" },
  { kind: "photo", icon: "camera" },
  { kind: "take_part", icon: "package" },
  { kind: "computed", icon: "calculator" },
  { kind: "timer", icon: "timer" },
  { kind: "note", icon: "pencil" },
  { kind: "sign_off", icon: "pen-tool" },
  { kind: "procedure", icon: "clipboard-list" },
];

export const iconOf = (kind: StepKind) => KINDS.find((one) => one.kind === kind)?.icon ?? "list";
