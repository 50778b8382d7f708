#pragma once
#include <leastwise/diagnostic.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/material.hpp>
#include <leastwise/note.hpp>
#include <leastwise/price_spread.hpp>

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace leastwise {

/// A material as somebody states it: what is not stated may come from the built-in catalogue.
///
/// When neither `contains_percent` nor `formula` is given and the name is that of a built-in
/// material, everything not stated is taken from there. Otherwise `form` is required and nothing
/// is taken from the catalogue. A price is always required, here or in `ScenarioDraft::prices`.
struct MaterialDraft {
  std::string name{};
  std::optional<Form> form{};
  std::optional<std::string> family{};
  std::optional<std::vector<Content>> contains_percent{};
  /// Standard deviation of the analysis from lot to lot, in percentage points: N 46 with a spread
  /// of 0.5 lies within 45.5 and 46.5 in about two lots of three.
  std::optional<std::vector<Content>> spread_percent{};
  std::optional<std::string> formula{};
  std::optional<double> purity_percent{};
  std::optional<double> price_per_t{};
  std::optional<double> freight_per_t{};
  std::optional<Limits> share_percent{};
  std::optional<double> min_if_used_percent{};
  std::optional<double> stock_kg{};
  std::optional<double> sgn{};
  std::optional<double> ui{};
  std::optional<double> bulk_density_kg_per_m3{};
  std::optional<bool> ground{};
  std::optional<bool> micronutrient_granule{};
  std::string path{};  ///< dotted path for messages; `materials.NAME` when empty
};

/// Limits on the amount, the percentage or the ratio of something named.
struct TargetDraft {
  std::string nutrient{};
  Limits limits{};
  /// The share of lots, 0.5 to 0.9999, in which the limits must hold though the analysis of the
  /// materials spreads.
  std::optional<double> confidence{};
  /// Grades only: a published label tolerance, `aafco` or `eu-2019-1009`, by which the product may
  /// fall short of the minimum.
  std::string tolerance{};
};

/// `of` : `to` must stay within `limits` (dimensionless, by mass).
struct RatioDraft {
  std::string of{};
  std::string to{};
  Limits limits{};
};

/// The adhesive or oil that holds powders on granules.
struct BinderDraft {
  std::string material{};
  std::optional<double> percent_of_powder{};  ///< default 37.5
  std::optional<double> price_per_t{};        ///< default 0
  std::optional<bool> organic{};              ///< overrides the built-in binder table
};

/// A line of a price list; overrides what the material states.
struct PriceDraft {
  std::string material{};
  double price_per_t = 0;
  std::optional<double> freight_per_t{};
  std::string path{};
};

enum class LimitedCompatibility { allow, forbid };

/// A named small change of a scenario: what it does not say stays as it is.
struct VariantDraft {
  std::string name{};
  std::optional<std::vector<std::string>> use{};
  std::vector<PriceDraft> prices{};
  std::vector<TargetDraft> rates_kg_per_ha{};  ///< replaces the limits of the same nutrient
  std::vector<TargetDraft> grade_percent{};
  std::vector<RatioDraft> ratios{};  ///< replaces the ratio of the same two names
  std::optional<Limits> total_kg_per_ha{};
  std::optional<int> bins{};
  std::optional<Limits> coating_percent{};
  std::optional<BinderDraft> binder{};
  std::optional<double> granular_micronutrient_factor{};
  std::vector<std::pair<std::string, double>> granular_micronutrient_factors{};
  std::optional<double> blending_fee_per_t{};
  std::optional<LimitedCompatibility> limited_compatibility{};
  std::vector<std::string> drop{};     ///< names of rules: `rate N max`, `bins`
  std::vector<std::string> without{};  ///< materials held at a share of 0
  /// Nutrient and material: every other material with at least 1 % of the nutrient is held at 0.
  std::vector<std::pair<std::string, std::string>> only_source_of{};
};

/// Everything a scenario file can say, as plain values: fill it and make a `Scenario` of it.
///
/// Field names are the keys of the file format, version 1. `places` maps dotted paths to places
/// in the source text so that messages can point there; programs leave it empty.
struct ScenarioDraft {
  std::string title{};
  std::string currency{};
  std::vector<MaterialDraft> materials{};
  std::optional<std::vector<std::string>> use{};
  std::vector<PriceDraft> prices{};
  std::vector<TargetDraft> rates_kg_per_ha{};
  std::vector<TargetDraft> grade_percent{};
  std::vector<RatioDraft> ratios{};
  std::optional<Limits> total_kg_per_ha{};
  std::optional<int> bins{};
  std::optional<Limits> coating_percent{};  ///< only `max` is meaningful; default 2
  std::optional<BinderDraft> binder{};
  std::optional<double> granular_micronutrient_factor{};                         ///< default 3
  std::vector<std::pair<std::string, double>> granular_micronutrient_factors{};  ///< per nutrient
  std::optional<double> blending_fee_per_t{};
  LimitedCompatibility limited_compatibility = LimitedCompatibility::allow;
  std::vector<std::pair<std::string, std::string>> incompatible{};
  std::vector<std::pair<std::string, std::string>> limited{};
  std::vector<std::pair<std::string, std::string>> compatible{};
  std::optional<double> make_hectares{};
  std::optional<double> make_tonnes{};
  std::optional<PriceUncertainty> risk{};
  std::vector<VariantDraft> variants{};  ///< for `compare`; no part of the scenario itself

  std::vector<Note> notes{};  ///< remarks made while reading; a Scenario passes them on
  std::map<std::string, Place, std::less<>> places{};
  std::map<std::string, std::vector<std::string>, std::less<>> source_lines{};  ///< by source name
};

}  // namespace leastwise
