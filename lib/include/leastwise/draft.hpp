#pragma once
#include <leastwise/export.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/material.hpp>
#include <leastwise/note.hpp>
#include <leastwise/price_spread.hpp>
#include <leastwise/price_tier.hpp>
#include <leastwise/quote_terms.hpp>
#include <leastwise/unit_system.hpp>

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwise {

/// A material as somebody states it: what is not stated may come from the built-in catalogue.
///
/// When neither `contains_percent` nor `formula` is given and the name is that of a built-in
/// material, everything not stated is taken from there. Otherwise `form` is required and nothing
/// is taken from the catalogue. A price is always required, here or in `ScenarioDraft::prices`.
struct MaterialDraft {
  std::string name{};                                      ///< required, unique
  std::optional<Form> form{};                              ///< how it is bought
  std::optional<std::string> family{};                     ///< for compatibility; default: the name
  std::optional<std::vector<Content>> contains_percent{};  ///< percent by mass
  /// On top of the catalogue or the formula: contents that this lot has too, or another percentage
  /// of one. Forms of a nutrient that is replaced keep their share of it unless stated too.
  std::optional<std::vector<Content>> contains_also_percent{};
  /// The analysis of this lot: replaces contents of the catalogue or the formula, and only those.
  std::optional<std::vector<Content>> analysis_percent{};
  /// Standard deviation of the analysis from lot to lot, in percentage points: N 46 with a spread
  /// of 0.5 lies within 45.5 and 46.5 in about two lots of three.
  std::optional<std::vector<Content>> spread_percent{};
  std::optional<std::string> formula{};            ///< `ZnSO4.H2O`; instead of contents
  std::optional<double> purity_percent{};          ///< of the formula; default 100
  std::optional<double> price_per_t{};             ///< currency per tonne
  std::optional<double> freight_per_t{};           ///< on top; default 0
  std::vector<PriceTierDraft> price_tiers{};       ///< in place of `price_per_t`; needs `make`
  std::optional<double> minimum_lot_t{};           ///< none is bought, or so much; needs `make`
  std::optional<Limits> share_percent{};           ///< of the product, by mass
  std::optional<double> min_if_used_percent{};     ///< none, or at least this
  std::optional<double> stock_kg{};                ///< at hand; a rule only with `make`
  std::optional<double> sgn{};                     ///< median diameter in mm x 100
  std::optional<double> ui{};                      ///< uniformity index, 0 to 100
  std::optional<double> bulk_density_kg_per_m3{};  ///< loose
  std::optional<bool> ground{};                    ///< will be ground to a powder
  std::optional<bool> micronutrient_granule{};     ///< the factor applies
  std::string path{};  ///< dotted path for messages; `materials.NAME` when empty
  /// By a variant: it takes no part, whatever is said of its share and its minimum if used. Where a
  /// share of it is asked for, no blend obeys every rule.
  bool left_out = false;
};

/// Limits on the amount, the percentage or the ratio of something named.
struct TargetDraft {
  std::string nutrient{};  ///< nutrient, form or property
  Limits limits{};         ///< kg/ha for rates, percent for grades
  /// The share of lots, 0.5 to 0.9999, in which the limits must hold though the analysis of the
  /// materials spreads.
  std::optional<double> confidence{};
  /// Grades only: a published label tolerance, `aafco` or `eu-2019-1009`, by which the product may
  /// fall short of the minimum.
  std::string tolerance{};
};

/// `of` : `to` must stay within `limits` (dimensionless, by mass).
struct RatioDraft {
  std::string of{};  ///< numerator: nutrient, form or property
  std::string to{};  ///< denominator
  Limits limits{};   ///< mass by mass
};

/// The adhesive or oil that holds powders on granules.
struct BinderDraft {
  std::string material{};                     ///< its name; empty: unnamed
  std::optional<double> percent_of_powder{};  ///< default 37.5
  std::optional<double> price_per_t{};        ///< default 0
  std::optional<bool> organic{};              ///< overrides the built-in binder table
};

/// A line of a price list; overrides what the material states.
struct PriceDraft {
  std::string material{};                     ///< its name
  double price_per_t = 0;                     ///< currency per tonne
  std::optional<double> freight_per_t{};      ///< on top; as before when empty
  std::string path{};                         ///< for messages; may be empty
  std::string supplier{};                     ///< whose price it is; may be empty
  std::vector<PriceTierDraft> price_tiers{};  ///< in place of `price_per_t`; needs `make`
  std::optional<double> minimum_lot_t{};      ///< as before when empty; needs `make`
};

/// What becomes of pairs that should not be stored mixed.
enum class LimitedCompatibility {
  allow,   ///< they may be mixed, with a caution
  forbid,  ///< they are kept apart like incompatible ones
};

/// A named small change of a scenario: what it does not say stays as it is.
struct VariantDraft {
  std::string name{};                             ///< its line in comparisons
  std::optional<std::vector<std::string>> use{};  ///< replaces `use`
  std::vector<PriceDraft> prices{};               ///< replace single prices
  std::vector<TargetDraft> rates_kg_per_ha{};     ///< replaces the limits of the same nutrient
  std::vector<TargetDraft> grade_percent{};       ///< the same for grades
  std::vector<RatioDraft> ratios{};               ///< replaces the ratio of the same two names
  std::optional<Limits> total_kg_per_ha{};        ///< replaces both limits
  std::optional<int> bins{};                      ///< replaces the number
  std::optional<Limits> coating_percent{};        ///< replaces the limit
  std::optional<BinderDraft> binder{};            ///< replaces the binder
  std::optional<double> granular_micronutrient_factor{};  ///< replaces the default
  std::vector<std::pair<std::string, double>> granular_micronutrient_factors{};  ///< per nutrient
  std::vector<std::string> confirm_high_rate{};                 ///< added to those of the scenario
  std::optional<Limits> sgn{};                                  ///< replaces both limits
  std::optional<double> dry_up_to_humidity_percent{};           ///< replaces the limit
  std::optional<double> blending_fee_per_t{};                   ///< per tonne of product
  std::optional<LimitedCompatibility> limited_compatibility{};  ///< replaces the choice
  std::vector<std::string> drop{};     ///< names of rules: `rate N max`, `bins`
  std::vector<std::string> without{};  ///< materials left out
  /// Nutrient and material: every other material with at least 1 % of the nutrient is left out.
  std::vector<std::pair<std::string, std::string>> only_source_of{};
};

/// Everything a scenario file can say, as plain values: fill it and make a `Scenario` of it.
///
/// Field names are the keys of the file format, version 1. `places` maps dotted paths to places
/// in the source text so that messages can point there; programs leave it empty.
/// Defaults are common practice of the trade: binder 37.5 % of the powders (35 to 40), powders with
/// binder up to 2 % of the granules, a factor of 3 for granules of Cu, Zn, Mn and Fe (2 to 4).
struct ScenarioDraft {
  std::string title{};     ///< printed on reports; may be empty
  std::string currency{};  ///< a label; nothing is converted
  /// What the file counts in and what pages are written in; the fields of a draft are metric.
  Units units = Units::metric;
  std::vector<MaterialDraft> materials{};         ///< what can be bought
  std::optional<std::vector<std::string>> use{};  ///< only these; default all of `materials`
  std::vector<PriceDraft> prices{};               ///< override what materials state
  std::vector<TargetDraft> rates_kg_per_ha{};     ///< give the per-hectare basis
  std::vector<TargetDraft> grade_percent{};       ///< of the product, by mass
  std::vector<RatioDraft> ratios{};               ///< mass by mass
  std::optional<Limits> total_kg_per_ha{};        ///< of product
  std::optional<int> bins{};                      ///< at most so many granular materials
  std::optional<Limits> coating_percent{};        ///< only `max` is meaningful; default 2
  std::optional<BinderDraft> binder{};            ///< default: unnamed, price 0
  /// Of every micronutrient without a factor of its own. Default: 3 for Cu, Zn, Mn and Fe, whose
  /// granules reach only the roots near them; 1 for B, Mo, Se, Co and Ni.
  std::optional<double> granular_micronutrient_factor{};
  std::vector<std::pair<std::string, double>> granular_micronutrient_factors{};  ///< per nutrient
  /// Micronutrients whose rate may be far above what is usual: no ceiling applies to them.
  std::vector<std::string> confirm_high_rate{};
  /// Granules whose size guide number lies outside stay out.
  std::optional<Limits> sgn{};
  /// Relative humidity up to which the blend draws no water, by published values at 30 C: pairs of
  /// families that do are kept apart, materials that do by themselves stay out.
  std::optional<double> dry_up_to_humidity_percent{};
  bool indices = false;                        ///< also report `Blend::indices`; no rule
  std::optional<double> blending_fee_per_t{};  ///< per tonne of product; default 0
  LimitedCompatibility limited_compatibility = LimitedCompatibility::allow;  ///< of limited pairs
  std::vector<std::pair<std::string, std::string>> incompatible{};  ///< families never together
  std::vector<std::pair<std::string, std::string>> limited{};       ///< families to spread at once
  std::vector<std::pair<std::string, std::string>> compatible{};    ///< lifts a built-in rule
  std::optional<double> make_hectares{};                            ///< what stock is held against
  std::optional<double> make_tonnes{};  ///< the same in tonnes; one of both
  /// How much of a product by the tonne a hectare gets, so that ceilings of micronutrients hold for
  /// it too. A trial sets it from the `product_kg_per_ha` of a treatment.
  std::optional<double> product_kg_per_ha{};
  std::optional<PriceUncertainty> risk{};     ///< for `price_risk`; no rule
  std::vector<VariantDraft> variants{};       ///< for `compare`; no part of the scenario itself
  std::optional<QuoteTerms> quote{};          ///< for `quote_of`; no rule
  std::optional<DeclarationTerms> declare{};  ///< how contents are declared; no rule
  std::string prices_on{};   ///< the day of which prices are meant, `2026-03-02`; may be empty
  std::string plant{};       ///< to which the prices of a list are delivered; may be empty
  std::string price_list{};  ///< file that `prices` was read from; empty: none; quotes name it

  /// By a variant or a treatment: pairs of materials that it leaves out are no mistake then.
  bool of_variant = false;
  std::vector<Note> notes{};  ///< remarks made while reading; a Scenario passes them on
  std::map<std::string, Place, std::less<>> places{};                           ///< by dotted path
  std::map<std::string, std::vector<std::string>, std::less<>> source_lines{};  ///< by source name
  /// Written by the library: what each part with a place said when it was read, as a digest. A part
  /// that a program changes has no place from then on; messages give its dotted path instead.
  std::map<std::string, std::uint64_t, std::less<>> values_read{};
};

/// How many times its coated rate a dedicated granule of `nutrient` must supply under `draft`; 1
/// for what is no micronutrient.
[[nodiscard]] LEASTWISE_API double granular_factor(const ScenarioDraft& draft,
                                                   std::string_view nutrient);

}  // namespace leastwise
