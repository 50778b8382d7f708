#pragma once
#include <leastwise/trial.hpp>

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/checks.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// Checks a trial draft, collects everything that is wrong with it, and resolves it to a Trial.
class TrialBuilder {
 public:
  /// `reading` is what the reader of a text found already; empty for a draft made in code.
  TrialBuilder(TrialDraft draft, Reading reading);

  TrialBuilder(const TrialBuilder&) = delete;
  TrialBuilder& operator=(const TrialBuilder&) = delete;
  ~TrialBuilder() = default;

  /// Throws: InputError when there is any error, the reader's included.
  [[nodiscard]] Trial build() &&;

 private:
  void check_day();
  void resolve_treatments();
  void resolve(const TreatmentDraft& draft, std::size_t position);
  void hold_to_ceilings(const TreatmentDraft& draft, const std::string& path, Treatment& treatment);
  void check_recipe(const TreatmentDraft& draft, const std::string& path);
  void check_recipe_is_compatible(const TreatmentDraft& draft, const std::string& path);
  void check_recipe_is_no_poison(const TreatmentDraft& draft, const std::string& path);
  void choose_sources(const TreatmentDraft& draft, const std::string& path, Treatment& treatment);
  static bool rule_out_other_form(const Scenario& scenario, const std::string& nutrient,
                                  SourceForm form, VariantDraft& variant);
  void resolve_applications();
  void check_splits();
  void check_shares(const SplitShares& split, const std::string& path);
  void check_split(const TreatmentDraft& draft, const Treatment& treatment,
                   const std::string& path);
  void check_split_recipe(const TreatmentDraft& draft, const std::string& path);
  [[nodiscard]] bool asks_rate(const Treatment& treatment, const std::string& nutrient) const;
  void complain_of_split(const std::string& name, const std::string& path,
                         const std::string& owner);
  void split_treatments();
  void split(const Treatment& whole, std::span<const SplitShares> splits, const std::string& path,
             std::vector<Treatment>& products);
  void take_share(const Treatment& whole, std::span<const SplitShares> splits, std::size_t k,
                  std::size_t count, const std::string& path, Treatment& product);
  void check_product_rate(const TreatmentDraft& draft, const std::string& path);
  void resolve_sites();
  void resolve_fields();
  void check_repeats();
  /// Whether the design of a site can be laid out with these treatments; says so when it cannot.
  bool fits_design(Site& site);
  bool fits_latin_square(Site& site, const std::string& path);
  bool fits_split_plot(const std::string& path);
  bool fits_incomplete_blocks(Site& site, const std::string& path);
  void check_guards(const FieldLayout& field, const std::string& path);
  void check_strips(const Site& site, const std::string& path);
  /// Whether `name` is a treatment of the trial; reports it at `path` when it is not.
  bool check_strip_treatment(const std::string& name, const std::string& path,
                             std::string_view what);
  void resolve_sides(const SiteDraft& draft, const std::string& path, Site& site);
  void resolve_areas(const SiteDraft& draft, Site& site);
  /// Reports a design that cannot be laid out. Returns: false.
  bool unfit(const std::string& path, std::string message);
  void check_field(const FieldLayout& field, const std::string& path);
  void check_labels();
  void check_spreader();
  void resolve_plot(const SiteDraft& draft, const std::string& path, Site& site);
  void check_number_of_plots();
  void check_codes();
  void check_code(const std::string& code, const std::string& path);
  void resolve_equipment();
  void check_mixers();
  void check_containers();
  void check_balances();
  void check_bags();
  void check_capacity(const std::optional<double>& kg, const std::optional<double>& litres,
                      const std::string& path, std::string_view what);
  void resolve_hold();
  void check_held(const std::string& nutrient, const std::string& path);
  void check_currency_of_hold();
  void resolve_carrier();
  void resolve_solutions();
  void check_dissolved(const std::string& name, const std::string& path);
  void check_stock();
  void check_lifted_rules(const TreatmentDraft& draft, const std::string& path);
  bool check_whole(int value, int most, const std::string& path, std::string_view what);
  /// Reports `name` when it stands under `seen` already; else notes it there.
  void check_twice(std::map<std::string, std::string>& seen, const std::string& name,
                   const std::string& path, std::string_view code, std::string_view what);

  TrialDraft draft_;
  ScenarioDraft text_;  ///< carries the places and lines for messages
  DiagnosticSink diagnostics_;
  Checks checks_;
  Trial trial_{};
};

}  // namespace leastwise
