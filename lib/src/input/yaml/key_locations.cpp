#include <algorithm>
#include <array>

#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

struct Whereabout {
  std::string_view key;
  std::string_view place;
};

constexpr std::string_view top = "at the top of the file";
constexpr std::string_view material = "to a material";
constexpr std::string_view blend = "under blend";
constexpr std::string_view binder = "under blend.binder";
constexpr std::string_view compatibility = "under compatibility";
constexpr std::string_view variant = "to a variant under variants";
constexpr std::string_view limits = "to limits, such as N: {min: 60}";

/// Every key of the format, version 1, and where it belongs.
constexpr std::array<Whereabout, 89> key_locations{{
    {"leastwise", top},
    {"title", top},
    {"currency", top},
    {"units", top},
    {"catalogue", top},
    {"use", top},
    {"prices", top},
    {"prices_on", top},
    {"materials", top},
    {"rates_kg_per_ha", top},
    {"grade_percent", top},
    {"ratios", top},
    {"blend", top},
    {"compatibility", top},
    {"make", top},
    {"variants", top},
    {"drop", variant},
    {"without", variant},
    {"only_source_of", variant},
    {"form", material},
    {"family", material},
    {"contains_percent", material},
    {"contains_also_percent", material},
    {"analysis_percent", material},
    {"formula", material},
    {"purity_percent", material},
    {"price_per_t", "to a material, or under blend.binder"},
    {"freight_per_t", material},
    {"share_percent", material},
    {"min_if_used_percent", material},
    {"stock_kg", material},
    {"sgn", material},
    {"ui", material},
    {"bulk_density_kg_per_m3", material},
    {"ground", material},
    {"micronutrient_granule", material},
    {"total_kg_per_ha", blend},
    {"bins", blend},
    {"coating_percent", blend},
    {"binder", blend},
    {"granular_micronutrient_factor", blend},
    {"confirm_high_rate", blend},
    {"blending_fee_per_t", blend},
    {"limited_compatibility", blend},
    {"percent_of_powder", binder},
    {"organic", binder},
    {"incompatible", compatibility},
    {"limited", compatibility},
    {"compatible", compatibility},
    {"of", "to a ratio"},
    {"to", "to a ratio"},
    {"min", limits},
    {"max", limits},
    {"exactly", limits},
    {"hectares", "under make"},
    {"tonnes", "under make"},
    {"default", "under granular_micronutrient_factor"},
    {"risk", top},
    {"quote", top},
    {"declare", top},
    {"number", "under quote"},
    {"customer", "under quote"},
    {"date", "under quote"},
    {"valid_until", "under quote"},
    {"overhead_per_t", "under quote"},
    {"margin_percent", "under quote"},
    {"markup_percent", "under quote"},
    {"margin_per_t", "under quote"},
    {"outbound_freight_per_t", "under quote"},
    {"bags", "under quote"},
    {"kg", "under quote.bags"},
    {"price_each", "under quote.bags"},
    {"rules", "under declare"},
    {"stated_as", "under declare"},
    {"step_percent", "under declare"},
    {"spread_percent", material},
    {"confidence", "to a rate or a grade, such as N: {min: 15, confidence: 0.95}"},
    {"tolerance", "to a grade, such as N: {min: 15, tolerance: aafco}"},
    {"draws", "under risk"},
    {"seed", "under risk"},
    {"correlations", "under risk"},
    {"history", "under risk"},
    {"lognormal_percent", "to a price under risk.prices"},
    {"normal_percent", "to a price under risk.prices"},
    {"triangular", "to a price under risk.prices"},
    {"mode", "under triangular"},
    {"between", "to a correlation under risk"},
    {"r", "to a correlation under risk"},
}};

}  // namespace

std::string where_it_belongs(std::string_view key) {
  const auto found = std::ranges::find(key_locations, key, &Whereabout::key);
  return found == key_locations.end() ? std::string() : std::string(found->place);
}

bool belongs_at_top(std::string_view key) {
  const auto found = std::ranges::find(key_locations, key, &Whereabout::key);
  return found != key_locations.end() && found->place == top;
}

}  // namespace leastwise
