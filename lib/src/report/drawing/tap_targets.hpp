#pragma once
#include <leastwise/limits.hpp>

#include <optional>
#include <string>
#include <vector>

#include "report/drawing/picture.hpp"

namespace leastwise::report {

/// What is supplied of something, and what is asked.
struct Target {
  std::string label{};
  double value = 0;               ///< what a minimum counts
  std::optional<double> there{};  ///< all that is there, where that is more
  Limits asked{};
  std::string words{};  ///< `62.1 kg/ha, asked 60 to 66`
};

/// A bar for each target on a scale of its own, the allowed stretch shaded, the minimum marked from
/// below and the maximum from above.
[[nodiscard]] Picture target_chart(std::string title, const std::vector<Target>& targets);

}  // namespace leastwise::report
