// Posterior sampling by adaptive importance sampling.
//
// The prior of the inputs is standard normal. Wave 0 samples the prior. Each later wave samples a normal distribution
// fitted to the members so far, with the likelihood tempered until the effective sample size suffices. The weight of every
// member refers to the mixture of all waves, so no member is discarded and the share of wave 0 bounds every weight
// (Cornuet, Marin, Mira & Robert 2012, Scand. J. Stat. 39, 798; deterministic mixtures: Owen & Zhou 2000, J. Am. Stat.
// Assoc. 95, 135).
//
// Limits: a normal proposal follows one mode; only wave 0 finds a distant second one. With more inputs than the members can
// resolve, the fit shrinks towards the prior, which needs more members but does not bias the result.
import { normalQuantile } from "../design/distributions.ts";
import { log } from "../elementary.ts";
import { memberStream } from "../ensemble/ensemble.ts";
import { latinHypercube } from "../ensemble/sampling.ts";
import { effectiveMembers, logMean, normalised, temperature, tempered } from "./weights.ts";

interface Proposal {
  readonly members: number;
  /** Mean; it and `root` are in the space of standard normal inputs. */
  readonly mean: Float64Array;
  /** Lower-triangular Cholesky factor of the covariance, `inputs` x `inputs`, by rows. */
  readonly root: Float64Array;
  readonly logDeterminant: number;
}

/** Effective members per input required to fit a proposal. */
const COUNTING_PER_INPUT = 3;
/** Factor on the standard deviation of a fitted proposal, to cover regions without members. */
const WIDER = 1.15;

export class AdaptiveImportance {
  readonly inputs: number;
  private readonly seed: string;
  private readonly proposals: Proposal[] = [];
  private readonly points: Float64Array[] = [];
  private readonly likelihoods: number[] = [];

  constructor(inputs: number, seed: string) {
    this.inputs = inputs;
    this.seed = seed;
  }

  /**
   * Points of the next wave. The caller passes them to `add` together with their log-likelihoods.
   * @returns `members` points, each with `inputs` numbers that are standard normal under the prior
   */
  propose(members: number): readonly Float64Array[] {
    const { inputs } = this;
    const wave = this.proposals.length;
    const proposal = wave === 0 ? beforehand(inputs, members) : this.fitted(members);
    this.proposals.push(proposal);
    const place = latinHypercube(`${this.seed}/wave/${wave}`, members, inputs);
    return Array.from({ length: members }, (_, n) => {
      const z = place(n, memberStream(`${this.seed}/wave/${wave}`, n)).map(normalQuantile);
      const { mean, root } = proposal;
      return Float64Array.from(z, (_, i) => {
        let x = mean[i];
        for (let j = 0; j <= i; j++) x += root[i * inputs + j] * z[j];
        return x;
      });
    });
  }

  /**
   * Adds the points of the last wave and their log-likelihoods, in the same order; minus infinity for an impossible point.
   */
  add(points: readonly Float64Array[], logLikelihoods: readonly number[]): void {
    this.points.push(...points);
    this.likelihoods.push(...logLikelihoods);
  }

  get members(): readonly Float64Array[] {
    return this.points;
  }

  /** Log importance ratio of each member: prior density over density of the mixture of waves. */
  private places(): Float64Array {
    const { proposals, points, inputs } = this;
    const all = proposals.reduce((sum, { members }) => sum + members, 0);
    const scratch = new Float64Array(inputs);
    const prior = beforehand(inputs, 0);
    const shares = new Float64Array(proposals.length);
    return Float64Array.from(points, (z) => {
      proposals.forEach((proposal, k) => {
        shares[k] = log(proposal.members / all) + logDensity(proposal, z, scratch);
      });
      return logDensity(prior, z, scratch) - (logMean(shares) + log(shares.length));
    });
  }

  /** Posterior weights of all members; their sum is one. */
  weights(): Float64Array {
    return normalised(tempered(this.places(), this.likelihoods, 1));
  }

  /** Effective sample size of the posterior weights. */
  effective(): number {
    return effectiveMembers(this.weights());
  }

  /** Log of the evidence (marginal likelihood): the mean of the likelihood over the prior. */
  logEvidence(): number {
    return logMean(tempered(this.places(), this.likelihoods, 1));
  }

  private fitted(members: number): Proposal {
    const { inputs, points } = this;
    const places = this.places();
    const wanted = Math.min(COUNTING_PER_INPUT * inputs, points.length / 4);
    const power = temperature(places, this.likelihoods, wanted);
    const weights = normalised(tempered(places, this.likelihoods, power));
    const worth = effectiveMembers(weights);
    // Shrinks towards the prior with the weight of `inputs` additional members (a normal-inverse-Wishart prior of that
    // weight).
    const kept = worth / (worth + inputs);
    const mean = new Float64Array(inputs);
    const covariance = new Float64Array(inputs * inputs);
    points.forEach((z, n) => {
      for (let i = 0; i < inputs; i++) mean[i] += weights[n] * z[i];
    });
    points.forEach((z, n) => {
      if (weights[n] === 0) return;
      for (let i = 0; i < inputs; i++)
        for (let j = 0; j <= i; j++) covariance[i * inputs + j] += weights[n] * (z[i] - mean[i]) * (z[j] - mean[j]);
    });
    for (let i = 0; i < inputs; i++)
      for (let j = 0; j <= i; j++) {
        const at = i * inputs + j;
        covariance[at] = WIDER * WIDER * (kept * covariance[at] + (i === j ? 1 - kept : 0));
      }
    return { members, mean, ...rootOf(covariance, inputs) };
  }
}

/** The prior as a proposal. */
function beforehand(inputs: number, members: number): Proposal {
  const root = new Float64Array(inputs * inputs);
  for (let i = 0; i < inputs; i++) root[i * inputs + i] = 1;
  return { members, mean: new Float64Array(inputs), root, logDeterminant: 0 };
}

/** Cholesky factor of a positive definite matrix given by its lower triangle. */
function rootOf(matrix: Float64Array, n: number): Pick<Proposal, "root" | "logDeterminant"> {
  const root = new Float64Array(n * n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j];
      for (let k = 0; k < j; k++) sum -= root[i * n + k] * root[j * n + k];
      root[i * n + j] = i === j ? Math.sqrt(sum) : sum / root[j * n + j];
      if (i === j) logDeterminant += log(root[i * n + i]);
    }
  return { root, logDeterminant };
}

/** Log of a normal density without its common constant. */
function logDensity({ mean, root, logDeterminant }: Proposal, z: Float64Array, scratch: Float64Array): number {
  const n = z.length;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    let sum = z[i] - mean[i];
    for (let j = 0; j < i; j++) sum -= root[i * n + j] * scratch[j];
    scratch[i] = sum / root[i * n + i];
    squares += scratch[i] * scratch[i];
  }
  return -0.5 * squares - logDeterminant;
}
