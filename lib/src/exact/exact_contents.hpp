#pragma once
#include <leastwise/scenario.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "exact/rational.hpp"

namespace leastwise::exact {

/// How much of one nutrient, form or property a material holds, without rounding.
struct Content {
  std::string name{};
  Rational percent{};
};

/// What `formula` holds, as `contents_of_formula` tells it, in exact numbers of the atomic weights.
[[nodiscard]] std::vector<Content> contents_of_formula(std::string_view formula,
                                                       const Rational& purity_percent);

/// What a mass stated as `from` is as `to`, an element or oxide of the same element; 0 when the two
/// do not share an element.
[[nodiscard]] Rational conversion(std::string_view from, std::string_view to);

/// What material `i` of the scenario contains: as the scenario states it, by its formula, or from
/// the built-in table.
[[nodiscard]] std::vector<Content> contents_of(const Scenario& scenario, std::size_t i);

/// Percent of `name`, converted between element and oxide where needed; 0 if absent.
[[nodiscard]] Rational percent_of(const std::vector<Content>& contents, std::string_view name);

}  // namespace leastwise::exact
