#pragma once
#include <leastwise/leastwise.hpp>

#include <limits>
#include <string>
#include <utility>
#include <vector>

namespace leastwise::testing {

inline constexpr double none = std::numeric_limits<double>::infinity();

inline Limits at_least(double x) { return {x, none}; }
inline Limits at_most(double x) { return {-none, x}; }

inline MaterialDraft stated(const std::string& name, double price, std::vector<Content> contents,
                            Form form = Form::granule) {
  MaterialDraft m;
  m.name = name;
  m.form = form;
  m.contains_percent = std::move(contents);
  m.price_per_t = price;
  return m;
}

/// Per tonne: an N carrier (40 % N at 400) and a filler at 50; N at least 10 %.
/// By hand: 250 kg carrier and 750 kg filler, cost 100 + 37.50 = 137.50. One percentage point of
/// N is 25 kg of carrier in the place of filler: 25 (0.40 - 0.05) = 8.75. Unique.
inline ScenarioDraft carrier_and_filler() {
  ScenarioDraft d;
  d.title = "carrier and filler";
  d.currency = "crowns";
  d.materials = {stated("carrier", 400, {{"N", 40}}), stated("filler", 50, {{"Ca", 30}})};
  d.grade_percent = {{"N", at_least(10)}};
  return d;
}

}  // namespace leastwise::testing
