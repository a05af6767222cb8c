// Cautions on every page. They defer to local rules and licensed trades; none of them is an approval.
import type { RunResult } from "../result/result.ts";

export const cautions: RunResult["cautions"] = [
  {
    title: "This is a simulation",
    text: "It computes what follows from the numbers given and from stated assumptions. Leaks, cracked glass, structure, wiring, disease and what was not measured are not in it. Measure, compare, and trust the ruler and the kit.",
  },
  {
    title: "Electricity and water",
    text: "Every circuit at an aquarium wants residual-current protection (about 5 mA in the US, 30 mA elsewhere). Drip loop on every cable; sockets above and beside the highest flood level, never on the cabinet floor. Unplug before hands go in, and know one switch you can reach with dry feet. Test the trip button. Fixed wiring is for licensed trades and local rules.",
  },
  {
    title: "Pulling the plug as a test",
    text: "Dry hands, dry floor, towels and a drain hose ready; two people for a large system. Do not reach for a plug from a puddle.",
  },
  {
    title: "Generators and flames",
    text: "Fuel engines and fuel heaters outdoors only, well away from openings: carbon monoxide kills. Follow the national guidance. No flame or hot plate beside acrylic.",
  },
  {
    title: "Glass, pressure and drilling",
    text: "Toughened glass cannot be drilled. A pump against a closed valve can burst a joint: open the valves again after service. Mains water feeds and structural holes are for licensed trades where the law says so.",
  },
  {
    title: "Floor and stand",
    text: "Mass and pressure are printed, never a pass. Upper floors, placement along joists, old timber and rented rooms: ask a structural engineer and the landlord.",
  },
  {
    title: "Chemicals",
    text: "Household ammonia only without surfactant, with gloves and fresh air, never with bleach, out of children's reach. Acid into water, outdoors. Bicarbonate shifts pH: small steps when animals are in.",
  },
  {
    title: "Salt and medicines",
    text: "No doses are given here. The chloride to nitrite figure is information only; many scaleless fish, soft-water species and plants do not bear salt. Ask a vet.",
  },
  {
    title: "Animals",
    text: "Run a filter in without animals where you can; with animals in, it is a rescue with water changes and daily tests. Keepers owe them a suitable environment; sellers may need a licence and must advise. Never release animals, plants or tank water.",
  },
  {
    title: "Insurance",
    text: "Many policies exclude or cap water from aquaria and do not cover livestock. A signed test sheet helps both sides.",
  },
  {
    title: "Lifting, slips, heat",
    text: "Water is heavy and floors get slippery. Let heaters cool before they come into air: a heater run dry can crack and burn.",
  },
];
