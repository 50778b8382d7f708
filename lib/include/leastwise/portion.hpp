#pragma once
#include <leastwise/material.hpp>

#include <optional>
#include <string>

namespace leastwise {

/// How much of one material the blend takes.
struct Portion {
  std::string material{};               ///< its name
  Form form = Form::granule;            ///< the form in which it enters: granule or powder
  std::optional<double> kg_per_ha{};    ///< empty in the per-tonne basis
  double kg_per_t = 0;                  ///< per tonne of finished product
  double cost_per_t = 0;                ///< its price and freight in a tonne of product
  std::optional<double> cost_per_ha{};  ///< empty in the per-tonne basis
};

}  // namespace leastwise
