// Cautions on every page. They defer to local rules and licensed trades; none of them is an approval.
import type { RunResult } from "../result/result.ts";

export const cautions: RunResult["cautions"] = [
  {
    title: "This is a simulation",
    text: "It works out what follows from the figures you gave and from the stated assumptions. It knows nothing of leaks, cracked glass, structure, wiring, disease, or anything you did not measure. Measure your own system, compare, and trust the ruler and the test kit.",
  },
  {
    title: "Electricity and water",
    text: "Protect every circuit at an aquarium with a residual-current device (about 5 mA in the US, 30 mA elsewhere), and press its test button regularly. Put a drip loop in every cable. Mount sockets to the side and above the highest flood level, never on the cabinet floor. Unplug everything before you put your hands in, and know one switch that you can reach with dry feet. Leave fixed wiring to licensed electricians, and follow local rules.",
  },
  {
    title: "Pulling the plug as a test",
    text: "Keep your hands and the floor dry, and have towels and a drain hose ready. A large system needs two people. Never reach for a plug while you stand in a puddle.",
  },
  {
    title: "Generators and flames",
    text: "Run fuel engines and fuel heaters outdoors only, well away from doors and windows: carbon monoxide kills. Follow your national guidance. Keep flames and hot plates away from acrylic.",
  },
  {
    title: "Glass, pressure and drilling",
    text: "Toughened glass cannot be drilled. A pump that runs against a closed valve can burst a joint, so open the valves again after service. Where the law says so, mains water connections and holes in walls or floors are work for licensed trades.",
  },
  {
    title: "Floor and stand",
    text: "The page prints mass and pressure; it does not say that a floor or a stand can carry them. For an upper floor, a tank along the joists, old timber or a rented room, ask a structural engineer and the landlord.",
  },
  {
    title: "Chemicals",
    text: "Use household ammonia only if it contains no surfactant. Wear gloves, work in fresh air, never mix it with bleach, and keep it away from children. Pour acid into water, never water into acid, and do it outdoors. Bicarbonate raises pH: take small steps when animals are in the tank.",
  },
  {
    title: "Salt and medicines",
    text: "The page gives no doses. Its ratio of chloride to nitrite is for information only; many fish without scales, soft-water species and plants do not tolerate salt. Ask a vet.",
  },
  {
    title: "Animals",
    text: "Run a filter in without animals where you can. With animals in the tank, it becomes a rescue with water changes and daily tests. Keepers owe their animals a suitable environment; sellers may need a licence and must advise their customers. Never release animals, plants or tank water.",
  },
  {
    title: "Insurance",
    text: "Many policies exclude or limit damage by water from aquaria, and do not cover livestock. A signed test sheet helps both sides.",
  },
  {
    title: "Lifting, slips, heat",
    text: "Water is heavy, and wet floors are slippery. Let a heater cool down before you lift it out of the water: a heater that runs dry can crack and burn.",
  },
];
