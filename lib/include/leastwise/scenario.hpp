#pragma once
#include <leastwise/export.h>
#include <leastwise/compatibility.hpp>
#include <leastwise/draft.hpp>
#include <leastwise/note.hpp>

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwise {

struct Nature;

/// What one unit of the answer stands for.
enum class Basis {
  per_hectare,  ///< `rates_kg_per_ha` is given: amounts are kg per hectare
  per_tonne,    ///< amounts are kg per tonne of product
};

/// A nutrient, form or property with limits. The vectors run along `Scenario::materials()`.
struct Target {
  std::string nutrient{};  ///< nutrient, form or property
  Limits limits{};         ///< kg/ha for rates, percent for grades; with any tolerance taken off
  std::vector<double> content_percent{};  ///< percent of it in each material
  std::vector<double> availability{};     ///< share a *minimum rate* counts: 1, or 1/factor
  std::string path{};                     ///< `rates_kg_per_ha.N`
  /// Safety margin of each material's content, percentage points: what a minimum counts less of it
  /// and a maximum more. Empty without a stated confidence.
  std::vector<double> margin_percent{};
  std::optional<double> confidence{};  ///< as asked, 0.5 to 0.9999
  std::optional<double> guarantee{};   ///< the minimum as stated, where a tolerance lowers `limits`
};

/// A ratio of two contents with limits. The vectors run along `Scenario::materials()`.
struct Ratio {
  std::string of{};                  ///< numerator
  std::string to{};                  ///< denominator
  Limits limits{};                   ///< mass by mass, dimensionless
  std::vector<double> of_percent{};  ///< of the numerator
  std::vector<double> to_percent{};  ///< of the denominator
  std::string path{};                ///< `ratios.0`
};

/// Two families that must not lie in one blend, both present in the scenario.
struct Exclusion {
  std::string family_a{};  ///< one family
  std::string family_b{};  ///< the other
  Compatibility level =
      Compatibility::incompatible;  ///< `limited` only where the scenario forbids such pairs
  std::string reason{};             ///< in one sentence
  std::string path{};               ///< empty for a built-in rule
  std::string source{};             ///< of the built-in rule: publication, or `from memory`
  bool dangerous = false;           ///< burns, explodes or gives off gas: no trial lifts it
  /// What the scenario would have to say to lift the rule, such as `compatible: [[urea,
  /// ammonium-nitrate]] under compatibility`; empty when nothing lifts it.
  std::string lifted_by{};
};

/// A rule between two families, both present, that the scenario lifts.
struct LiftedRule {
  std::string family_a{};  ///< one family
  std::string family_b{};  ///< the other
  std::string reason{};    ///< why they are kept apart otherwise
  std::string source{};    ///< of the built-in rule: publication, or `from memory`
  bool dangerous = false;  ///< burns, explodes or gives off gas: a trial does not lift it
  std::string path{};      ///< where the scenario lifts it
};

/// A nutrient or property that reports list, with its percentage in each material.
struct Reported {
  std::string nutrient{};                 ///< its name
  std::vector<double> content_percent{};  ///< along `Scenario::materials()`
  std::vector<double> availability{};     ///< as `Target::availability`
};

/// A material that no blend takes: nothing asks for a micronutrient it carries, by a minimum or
/// `exactly`, and no stated share asks for the material.
struct Unasked {
  std::size_t material = 0;             ///< position in `Scenario::materials()`
  std::vector<std::string> elements{};  ///< what it carries
};

/// The most of a micronutrient that a blend brings, unless the scenario confirms more. Of a product
/// by the tonne only where it is known how much of it a hectare gets.
struct Ceiling {
  std::string element{};  ///< `B`
  double kg_per_ha = 0;   ///< of the element
  bool asked = false;     ///< false: nothing asks for it, only a usual rate is let in
  std::vector<double> content_percent{};  ///< along `Scenario::materials()`
};

/// What holds powders on granules, resolved.
struct Binder {
  std::string material{};           ///< empty: an unnamed binder
  double percent_of_powder = 37.5;  ///< common practice: 35 to 40 percent of the powder's mass
  double price_per_t = 0;           ///< currency per tonne of binder
};

/// A valid question: which blend of these materials meets these limits at the least cost?
///
/// Valid by construction; a value: copies are independent and nothing outside changes it.
/// Thread safety: reading is safe on any threads.
class Scenario {
 public:
  /// Checks `draft` and resolves it. Throws: InputError with all diagnostics.
  LEASTWISE_API explicit Scenario(const ScenarioDraft& draft);

  /// What reports are headed with; may be empty.
  [[nodiscard]] const std::string& title() const& { return title_; }
  [[nodiscard]] std::string title() && { return std::move(title_); }  ///< owned, of a temporary
  /// A label; nothing is converted.
  [[nodiscard]] const std::string& currency() const& { return currency_; }
  [[nodiscard]] std::string currency() && {
    return std::move(currency_);
  }  ///< owned, of a temporary
  /// Per hectare when it states rates, else per tonne of product.
  [[nodiscard]] Basis basis() const { return basis_; }
  /// The materials in play, in the order of definition; includes those whose form keeps them out.
  [[nodiscard]] std::span<const Material> materials() const& { return materials_; }
  [[nodiscard]] std::vector<Material> materials() && {
    return std::move(materials_);
  }  ///< owned, of a temporary
  [[nodiscard]] std::span<const Target> rates() const& { return rates_; }  ///< kg/ha
  [[nodiscard]] std::vector<Target> rates() && {
    return std::move(rates_);
  }  ///< owned, of a temporary
  [[nodiscard]] std::span<const Target> grades() const& { return grades_; }  ///< percent
  [[nodiscard]] std::vector<Target> grades() && {
    return std::move(grades_);
  }  ///< owned, of a temporary
  [[nodiscard]] std::span<const Ratio> ratios() const& { return ratios_; }  ///< mass by mass
  [[nodiscard]] std::vector<Ratio> ratios() && {
    return std::move(ratios_);
  }  ///< owned, of a temporary
  /// Limits on the whole product, kg per hectare; none in the per-tonne basis.
  [[nodiscard]] const Limits& total_kg_per_ha() const { return total_kg_per_ha_; }
  /// How many granular materials a blend may have; nothing: any number.
  [[nodiscard]] std::optional<int> bins() const { return bins_; }
  /// The most powders and binder, percent of the granules.
  [[nodiscard]] double coating_max_percent() const { return coating_max_percent_; }
  /// What holds powders on granules.
  [[nodiscard]] const Binder& binder() const { return binder_; }
  /// Currency per tonne of product.
  [[nodiscard]] double blending_fee_per_t() const { return blending_fee_per_t_; }
  /// Pairs of families, both present, that no blend may mix.
  [[nodiscard]] std::span<const Exclusion> exclusions() const& { return exclusions_; }
  [[nodiscard]] std::vector<Exclusion> exclusions() && {
    return std::move(exclusions_);
  }  ///< owned, of a temporary
  /// Pairs of families present that should not be stored mixed; empty when the scenario forbids
  /// them, for then they are among `exclusions()`.
  [[nodiscard]] std::span<const Exclusion> limited_pairs() const& { return limited_pairs_; }
  [[nodiscard]] std::vector<Exclusion> limited_pairs() && {
    return std::move(limited_pairs_);
  }  ///< owned, of a temporary
  /// Micronutrient materials that nothing asks for.
  [[nodiscard]] std::span<const Unasked> unasked() const& { return unasked_; }
  [[nodiscard]] std::vector<Unasked> unasked() && {
    return std::move(unasked_);
  }  ///< owned, of a temporary
  /// Of the micronutrients there are; none where a hectare's rate is not known.
  [[nodiscard]] std::span<const Ceiling> ceilings() const& { return ceilings_; }
  [[nodiscard]] std::vector<Ceiling> ceilings() && {
    return std::move(ceilings_);
  }  ///< owned, of a temporary
  /// Rules between families present that the scenario lifts.
  [[nodiscard]] std::span<const LiftedRule> lifted_rules() const& { return lifted_rules_; }
  [[nodiscard]] std::vector<LiftedRule> lifted_rules() && {
    return std::move(lifted_rules_);
  }  ///< owned, of a temporary
  /// How much land is to be supplied; what stock is held against.
  [[nodiscard]] std::optional<double> make_hectares() const { return make_hectares_; }
  /// How much product is to be made; what stock is held against.
  [[nodiscard]] std::optional<double> make_tonnes() const { return make_tonnes_; }
  /// How much of a product by the tonne a hectare gets; nothing where that is not known.
  [[nodiscard]] std::optional<double> product_kg_per_ha() const { return draft_.product_kg_per_ha; }
  /// What reports list: all that has limits, then the other nutrients there are.
  [[nodiscard]] std::span<const Reported> reported() const& { return reported_; }
  [[nodiscard]] std::vector<Reported> reported() && {
    return std::move(reported_);
  }  ///< owned, of a temporary
  /// How uncertain the prices are; nothing when the scenario does not say.
  [[nodiscard]] const std::optional<PriceUncertainty>& price_uncertainty() const {
    return draft_.risk;
  }
  /// What the author should know though nothing is wrong: warnings, cautions, ignored stock.
  [[nodiscard]] std::span<const Note> notes() const& { return notes_; }
  [[nodiscard]] std::vector<Note> notes() && {
    return std::move(notes_);
  }  ///< owned, of a temporary

  /// Position of `name` in `materials()`; nothing when there is no such material.
  [[nodiscard]] LEASTWISE_API std::optional<std::size_t> index_of(std::string_view name) const;
  /// Where `path` (or its nearest parent) stands in the source; false when built in code.
  [[nodiscard]] LEASTWISE_API Place place_of(std::string_view path) const;
  /// kg of product per kg of material `i`: 1, or 1 + binder share for powders.
  [[nodiscard]] double mass_factor(std::size_t i) const { return mass_factor_[i]; }
  /// Currency per kg of material `i` used: price (of tiers the first), freight, binder and fee.
  [[nodiscard]] double cost_per_kg(std::size_t i) const { return cost_per_kg_[i]; }
  /// Tonnes of a material bought in all where a blend takes `kg` of it, per hectare or per tonne of
  /// product; needs `make`.
  [[nodiscard]] LEASTWISE_API double bought_t(double kg) const;
  /// Currency per tonne paid for material `i` where a blend takes `kg` of it, freight not included:
  /// its price, or what the tonnes bought cost by its tiers, on the average.
  [[nodiscard]] LEASTWISE_API double price_paid_per_t(std::size_t i, double kg) const;
  /// Whether the price of any material depends on how much is bought.
  [[nodiscard]] LEASTWISE_API bool has_price_tiers() const;

  /// The draft this came from; change it and make another Scenario.
  [[nodiscard]] const ScenarioDraft& draft() const& { return draft_; }
  [[nodiscard]] ScenarioDraft draft() && { return std::move(draft_); }  ///< owned, of a temporary
  /// The same scenario at another price, that of any quantity. Throws: std::out_of_range for an
  /// unknown material, std::invalid_argument for a price that is not finite, or negative with an
  /// unbounded total.
  [[nodiscard]] LEASTWISE_API Scenario with_price(std::string_view material,
                                                  double price_per_t) const;

 private:
  friend class ScenarioBuilder;
  friend class PriceEdit;
  friend std::span<const Nature> natures_of(const Scenario& scenario);
  Scenario() = default;
  [[nodiscard]] bool cost_is_bounded() const;
  [[nodiscard]] double cost_of(std::size_t i) const;
  ScenarioDraft draft_{};
  std::string title_{};
  std::string currency_{};
  Basis basis_ = Basis::per_tonne;
  std::vector<Material> materials_{};
  std::vector<Target> rates_{};
  std::vector<Target> grades_{};
  std::vector<Ratio> ratios_{};
  Limits total_kg_per_ha_{};
  std::optional<int> bins_{};
  double coating_max_percent_ = 2;
  Binder binder_{};
  double blending_fee_per_t_ = 0;
  std::vector<Exclusion> exclusions_{};
  std::vector<Exclusion> limited_pairs_{};
  std::vector<Unasked> unasked_{};
  std::vector<Ceiling> ceilings_{};
  std::vector<LiftedRule> lifted_rules_{};
  std::optional<double> make_hectares_{};
  std::optional<double> make_tonnes_{};
  std::vector<Reported> reported_{};
  std::vector<Note> notes_{};
  std::vector<double> mass_factor_{};
  std::vector<double> cost_per_kg_{};
  std::shared_ptr<const std::vector<Nature>> natures_{};  ///< of the materials; shared by copies
};

}  // namespace leastwise
