#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/scenario.hpp>

#include <cstdint>
#include <optional>

namespace leastwise::support {

/// What kind of scenario to draw.
struct ScenarioKind {
  int materials = 0;             ///< how many; 0 draws a size of 12 to 40
  bool either_or = true;         ///< false: no exclusions, bins or minimum-if-used: one pure LP
  std::optional<Basis> basis{};  ///< empty: drawn
  double sabotage = 0.15;        ///< how often one rule is pushed where few blends can follow
  bool frills = true;  ///< stock, price lists, `use`, negative prices, forms that stay out
};

/// A random but realistic blending question; the same for the same seed on every platform.
///
/// A hidden blend is drawn first and most rules are set so that it obeys them; hence most scenarios
/// can be blended. Several suppliers offer each chemistry at their own price and analysis. Contents
/// and prices are typical figures, from memory; no supplier is real.
[[nodiscard]] ScenarioDraft random_draft(std::uint64_t seed, const ScenarioKind& kind = {});

/// `random_draft` as a scenario. Throws: InputError when the draft is refused, which is a bug.
[[nodiscard]] Scenario random_scenario(std::uint64_t seed, const ScenarioKind& kind = {});

}  // namespace leastwise::support
