#pragma once
#include <leastwise/formulation.hpp>

namespace leastwise::samples {

// Answers built by hand: what reports show is independent of how an answer was found. The figures
// hang together (masses add up, costs follow from masses) but no solver has seen them.

/// 100 kg urea, 50 kg map, 0.8 kg zinc oxide powder with 0.3 kg oil, per hectare.
[[nodiscard]] Blend per_hectare_blend();

/// Half urea, half sulfate of potash: per tonne.
[[nodiscard]] Blend per_tonne_blend();

/// N of at least 120 kg/ha in at most 200 kg/ha in total.
[[nodiscard]] Conflict conflict();

/// Stopped at the time limit with a blend in hand.
[[nodiscard]] Stopped stopped();

}  // namespace leastwise::samples
