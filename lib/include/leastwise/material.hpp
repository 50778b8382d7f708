#pragma once
#include <leastwise/export.h>
#include <leastwise/formula.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/price_tier.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// The physical form, which decides how a material may enter a granular blend.
enum class Form {
  granule,  ///< may enter the bulk
  powder,   ///< enters only as a coating on granules
  crystal,  ///< never enters: segregates and does not stick
  fines,    ///< never enters: segregates and does not stick
};

/// The spelling used in scenario files and reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Form form);

/// A raw material as the blender buys it. Values are resolved: nothing is missing any more.
struct Material {
  std::string name{};                       ///< as the scenario has it
  Form form = Form::granule;                ///< as bought
  std::string family{};                     ///< family for compatibility; the name when not stated
  std::vector<Content> contains_percent{};  ///< percent by mass
  std::vector<Content> spread_percent{};    ///< standard deviation of the analysis, points
  double price_per_t = 0;                   ///< currency per tonne; of tiers the first
  double freight_per_t = 0;                 ///< currency per tonne of the material
  Limits share_percent{};                   ///< share of the product, percent by mass
  double min_if_used_percent = 0;           ///< 0, or at least this share of the product
  std::optional<double> stock_kg{};         ///< kg at hand; a rule only with `make`
  std::optional<double> sgn{};              ///< size guide number: median diameter in mm x 100
  std::optional<double> ui{};               ///< uniformity index, 0 to 100
  std::optional<double> bulk_density_kg_per_m3{};  ///< loose
  bool ground = false;                    ///< crystal or fines that will be ground to a powder
  bool micronutrient_granule = false;     ///< dedicated micronutrient granule: the factor applies
  std::string source{};                   ///< where the figures come from, for built-in materials
  bool left_out = false;                  ///< by a variant: its share is at most 0 %
  std::string formula{};                  ///< from which the contents were computed; else empty
  std::vector<PriceTier> price_tiers{};   ///< prices by quantity; empty: one price
  TierPrice tier_price = TierPrice::all;  ///< what each of them is for
  std::optional<double> minimum_lot_t{};  ///< none is bought, or at least so much

  /// The form in which it can enter: `powder` for ground crystal or fines.
  [[nodiscard]] Form form_used() const {
    return (form == Form::crystal || form == Form::fines) && ground ? Form::powder : form;
  }
  /// True unless the form keeps it out of every blend.
  [[nodiscard]] bool can_enter() const {
    return form_used() == Form::granule || form_used() == Form::powder;
  }
};

/// Percent of `name` in `material`, converted between element and oxide where needed; 0 if absent.
/// Of a sum (`N + K2O`) what its parts are together.
///
/// A name the material states itself is returned as stated, without a round trip.
[[nodiscard]] LEASTWISE_API double content_percent(const Material& material, std::string_view name);

}  // namespace leastwise
