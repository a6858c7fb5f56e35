import type { Board } from "$lib/api/shapes";

type Stage = Board["stages"][number];
export interface StageSummary extends Stage {
  oldest: number;
  late: number;
}

/** Stages that hold repairs, each with its oldest age in days and how many are late; within, the oldest first. */
export function filledStages(stages: Stage[]): StageSummary[] {
  return stages
    .filter((stage) => stage.repairs.length)
    .map((stage) => ({
      ...stage,
      repairs: [...stage.repairs].sort((a, b) => b.age_days - a.age_days),
      oldest: Math.max(...stage.repairs.map((repair) => repair.age_days)),
      late: stage.repairs.filter((repair) => repair.overdue).length,
    }));
}
