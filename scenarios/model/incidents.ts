// Planned incidents (animals that arrive, food, outages, shocks), and the same run without them: the difference shows
// their effect.
import { isHabit, isShock, type ManagementEvent, type Plan } from "../../models/nitrogen/events/all.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";

export interface Incident {
  readonly id: string;
  readonly kind: "stocking" | "feeding" | "power cut" | "shock";
  readonly day: number;
  /** Its label in the chart. */
  readonly label: string;
  /** How often it happens in the plan. */
  readonly times: number;
  /** The first occurrence of the event; null for animals. */
  readonly event: ManagementEvent | null;
  readonly without: (management: Plan) => Plan;
}

/** Incidents less than this apart are analysed together, because they act on the same days [d]. */
const TOGETHER_DAYS = 7;
/** Days after an incident in which its effect is looked for [d]. */
export const FOLLOWED_DAYS = 21;
/** A habit that repeats more often than this is not an incident. */
const MOST_REPEATS = 3;
/** At most this many incidents are analysed, the first ones: each needs a run. */
const MOST_INCIDENTS = 6;
const dropping =
  (drop: (event: ManagementEvent) => boolean) =>
  (management: Plan): Plan => ({ ...management, events: management.events.filter((event) => !drop(event)) });

/** All incidents, by day. */
export function incidentsOf({ groups, events, days }: Plan): readonly Incident[] {
  const incidents: Incident[] = [];
  const arrivals = groups.filter(({ arrivesDay }) => arrivesDay > 0 && arrivesDay < days);
  if (arrivals.length > 0) {
    const lots = new Set(arrivals.map(({ arrivesDay }) => arrivesDay)).size;
    const count = arrivals.reduce((sum, group) => sum + group.count, 0);
    incidents.push({
      id: "stocking",
      kind: "stocking",
      day: Math.min(...arrivals.map(({ arrivesDay }) => arrivesDay)),
      label:
        arrivals.length === 1 ? `${count} ${arrivals[0].name}` : `${count} animals in ${lots} ${lots === 1 ? "lot" : "lots"}`,
      times: 1,
      event: null,
      without: (management) => ({ ...management, groups: management.groups.filter(({ arrivesDay }) => arrivesDay <= 0) }),
    });
  }
  const fed = events.filter((event) => event.kind === "feed" && event.day < days);
  if (fed.length > 0)
    incidents.push({
      id: "feeding",
      kind: "feeding",
      day: fed[0].day,
      label: fed[0].label,
      times: 1,
      event: fed[0],
      without: dropping(({ kind }) => kind === "feed"),
    });
  const others = events.filter((event) => event.day < days && (event.kind === "power cut" || isShock(event)));
  const nameOf = ({ kind, label }: ManagementEvent): string => `${kind} ${label}`;
  for (const name of new Set(others.map(nameOf))) {
    const list = others.filter((event) => nameOf(event) === name);
    const [first] = list;
    if (list.length > MOST_REPEATS && isHabit(first)) continue;
    incidents.push({
      id: `${first.kind === "power cut" ? "after" : "shock"}-${first.kind.replaceAll(" ", "-")}-${Math.round(first.day * 100)}`,
      kind: first.kind === "power cut" ? "power cut" : "shock",
      day: first.day,
      label: first.label,
      times: list.length,
      event: first,
      without: dropping((event) => nameOf(event) === name),
    });
  }
  return incidents.sort((a, b) => a.day - b.day);
}

/** Incidents that act together, and the days in which their effect is looked for. */
export interface Cluster {
  readonly incidents: readonly Incident[];
  readonly from: number;
  readonly until: number;
}

/** @param management a plan; the last day of a cluster counts from the last animals, so that all groups are included */
export function clustersOf(management: Plan): readonly Cluster[] {
  const clusters: Incident[][] = [];
  for (const incident of incidentsOf(management).slice(0, MOST_INCIDENTS)) {
    const last = clusters.at(-1);
    if (last && incident.day - last[last.length - 1].day < TOGETHER_DAYS) last.push(incident);
    else clusters.push([incident]);
  }
  return clusters.map((incidents, n) => {
    const ends = incidents.map((incident) => lastDay(management, incident) + FOLLOWED_DAYS);
    const next = clusters[n + 1]?.[0].day ?? Number.POSITIVE_INFINITY;
    return { incidents, from: incidents[0].day, until: Math.min(Math.max(...ends), next, management.days) };
  });
}

/** Incidents beyond those that are followed. */
export const unfollowed = (management: Plan): readonly Incident[] => incidentsOf(management).slice(MOST_INCIDENTS);

/** The day of the last of its animals or repeats. */
function lastDay({ groups, events }: Plan, { kind, day, event }: Incident): number {
  if (kind === "stocking") return Math.max(day, ...groups.map(({ arrivesDay }) => arrivesDay));
  return Math.max(
    day,
    ...events.filter((e) => e.kind === event?.kind && (kind === "feeding" || e.label === event.label)).map((e) => e.day),
  );
}

/** A difference smaller than this is none: of the reading, and in g N/m³ (about a tenth of a kit's first step). */
const SAME_SHARE = 0.1;
const SAME_G_PER_M3 = 0.02;

/** Whether a reading is no higher than another, as far as a kit could tell [g N/m³]. */
export const isSame = (a: number, b: number): boolean => a - b < Math.max(SAME_G_PER_M3, SAME_SHARE * a);

/** The highest concentration of a substance in the first display within some days of a run. */
export interface Highest {
  readonly day: number;
  readonly value: number;
}

export function highestIn(run: Run, substance: "tan" | "no2", from: number, until: number): Highest {
  const i = run.aquarium.layout.cellIndex(run.aquarium.displayCells[0], substance);
  let best = { day: from, value: 0 };
  run.days.forEach((day, n) => {
    const value = run.states[n][i];
    if (day >= from && day <= until && value > best.value) best = { day, value };
  });
  return best;
}

/** Lowest alkalinity of the first display [eq/m³]. */
export function lowestAlkalinity({ aquarium: { layout, displayCells }, states }: Run): number {
  const i = layout.cellIndex(displayCells[0], "alk");
  return states.reduce((lowest, y) => Math.min(lowest, Math.max(0, y[i])), Number.POSITIVE_INFINITY);
}

/** Highest readings with and without the incidents, and the effect of each alone where several act together. */
export interface Effect {
  readonly cluster: Cluster;
  readonly run: Run;
  /** The same plan without any of them. */
  readonly twin: Run;
  readonly alone: readonly { readonly incident: Incident; readonly run: Run }[];
}

/** The plan without some incidents of a cluster, up to the end of the cluster. */
export const planWithout = (cluster: Cluster, dropped: readonly Incident[], management: Plan): Plan => ({
  ...dropped.reduce((plan, incident) => incident.without(plan), management),
  days: Math.min(management.days, Math.ceil(cluster.until) + 1),
});

/** Of more incidents at once, what each does alone is not asked: each costs a run, and the sentence has no room. */
const MOST_ALONE = 3;

/**
 * Removes the incidents of a cluster from the plan, first all of them and then all but one, and runs each plan to the
 * end of the cluster.
 * @param again runs a changed plan with the same sample of uncertain inputs
 */
export function effectOf(cluster: Cluster, management: Plan, run: Run, again: (management: Plan) => Run): Effect {
  const { incidents } = cluster;
  const drop = (dropped: readonly Incident[]): Plan => planWithout(cluster, dropped, management);
  return {
    cluster,
    run,
    twin: again(drop(incidents)),
    alone:
      incidents.length < 2 || incidents.length > MOST_ALONE
        ? []
        : incidents.map((incident) => ({ incident, run: again(drop(incidents.filter((other) => other !== incident))) })),
  };
}
