#pragma once
#include <leastwise/material.hpp>

#include <span>
#include <string>
#include <vector>

namespace leastwise::support {

/// A kind of good that several suppliers sell. Typical figures, from memory.
struct Chemistry {
  std::string name{};
  std::string family{};
  Form form = Form::granule;
  std::vector<Content> contains_percent{};
  std::string formula{};  ///< instead of contents when not empty
  double purity_percent = 100;
  double price_per_t = 0;
  bool micronutrient_granule = false;
  bool ground = false;
};

/// The goods scenarios are drawn from: bulk granules, then micronutrient granules, then powders,
/// then goods whose form keeps them out.
[[nodiscard]] std::span<const Chemistry> chemistries();

}  // namespace leastwise::support
