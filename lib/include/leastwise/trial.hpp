#pragma once
#include <leastwise/export.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/note.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/trial_application.hpp>
#include <leastwise/trial_field_work.hpp>
#include <leastwise/trial_hold.hpp>
#include <leastwise/trial_site.hpp>
#include <leastwise/trial_spray.hpp>

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwise {

/// How a mixer works, which decides from which mass on it is used.
enum class MixerKind {
  bucket,  ///< a sealed bucket turned end over end by hand: below about 10 kg (common practice)
  drum,    ///< a drum mixer, driven: from about 10 kg up (common practice)
};

/// The spelling used in trial files and reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(MixerKind kind);

/// What a blend is mixed in. One of the two capacities is required; of two the smaller counts.
struct Mixer {
  std::string name{};                       ///< as reports give it
  MixerKind kind = MixerKind::drum;         ///< decides for which loads it is used
  std::optional<double> capacity_kg{};      ///< of product in one load
  std::optional<double> capacity_litres{};  ///< of product in one load, not of the vessel
};

/// What the product of one plot is packed in.
struct Container {
  std::string name{};                       ///< as reports give it
  std::optional<double> capacity_kg{};      ///< of product
  std::optional<double> capacity_litres{};  ///< of product
};

/// A balance: what it carries and how finely it reads.
struct Balance {
  std::string name{};        ///< as reports give it
  double capacity_kg = 0;    ///< the most it carries at once
  double readability_g = 0;  ///< a whole number of milligrams
};

/// What a material is bought in.
struct BagSize {
  std::string material{};  ///< `default` for every material that is not listed
  double kg = 0;           ///< of the material in one bag
};

/// What there is of a material already.
struct StockItem {
  std::string material{};  ///< its name
  double kg = 0;           ///< at hand
};

/// One material of a fixed recipe.
struct RecipePortion {
  std::string material{};  ///< its name
  double kg_per_ha = 0;    ///< kg per hectare
};

/// In which form a nutrient is brought.
enum class SourceForm {
  coated,    ///< as powder on the granules
  granular,  ///< in granules
};

/// The spelling used in trial files: `coated`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(SourceForm form);

/// One line of a trial: a blend to be found, a fixed recipe, or nothing at all.
struct TreatmentDraft {
  std::string name{};  ///< required, unique
  std::string code{};  ///< on labels; `T1`, `T2` ... when empty
  /// What is to be blended; for a recipe, the materials it draws on and the binder.
  std::optional<Scenario> scenario{};
  std::vector<RecipePortion> recipe_kg_per_ha{};  ///< not empty: this, and nothing is solved
  std::optional<double> product_kg_per_ha{};      ///< needed where the scenario is per tonne
  int repeat = 1;                                 ///< so often in each replicate
  std::optional<int> replicates{};                ///< only in the first so many of each site
  std::string whole_plot{};                       ///< of a split plot: the whole plot it is part of
  std::vector<SplitShares> split_percent{};       ///< in place of those of the trial
  std::vector<std::string> without{};             ///< materials left out
  /// Nutrient and material: every other material with at least 1 % of the nutrient is left out.
  std::vector<std::pair<std::string, std::string>> only_source_of{};
  /// Nutrient and what its sources are: granules, or powders stuck to granules. Materials with at
  /// least 1 % of the nutrient that are the other are left out.
  std::vector<std::pair<std::string, SourceForm>> form_of{};
  std::string path{};  ///< for messages; `treatments.NAME` when empty
};

/// Everything a trial file can say, as plain values: fill it and make a `Trial` of it.
struct TrialDraft {
  std::string title{};                       ///< printed on reports
  std::string code{};                        ///< start of every label code; may be empty
  std::string currency{};                    ///< that of the first scenario when empty
  std::optional<std::uint64_t> seed{};       ///< of the randomised layout; nothing: in order
  std::string mixed_on{};                    ///< day of mixing, `2026-04-03`; may be empty
  std::vector<TreatmentDraft> treatments{};  ///< at least one
  std::vector<SiteDraft> sites{};            ///< at least one
  std::vector<Application> applications{};   ///< in order; empty: everything at once
  std::vector<SplitShares> split_percent{};  ///< of every solved treatment without its own
  double spare_percent = 10;            ///< on top of what the plots need, for losses and samples
  std::vector<Mixer> mixers{};          ///< at least one
  std::vector<Container> containers{};  ///< may be empty: plain packs
  std::vector<Balance> balances{};      ///< at least one
  std::vector<BagSize> bags{};          ///< may be empty
  std::optional<double> binder_density_kg_per_l{};  ///< default: by table
  std::optional<Hold> hold{};                       ///< what solved treatments have in common
  std::vector<StockItem> stock{};                   ///< what need not be bought
  double sample_g = 0;                              ///< kept of each load, on top of the spare
  /// Thins out powders too little for a balance: a powder of the scenarios; empty: an inert one.
  std::string carrier{};
  Solutions solutions{};               ///< what is dissolved where it cannot be mixed
  LabelLayout labels{};                ///< sizes of labels, and what they show
  std::optional<Spreader> spreader{};  ///< what the products are spread with

  std::map<std::string, Place, std::less<>> places{};  ///< by dotted path; programs leave it empty
  std::map<std::string, std::vector<std::string>, std::less<>> source_lines{};  ///< by source name
};

/// What a treatment puts on its plots: a solved blend, a fixed recipe, or nothing.
enum class TreatmentKind {
  blend,    ///< the cheapest of its scenario
  recipe,   ///< so much of each material, nothing solved
  nothing,  ///< a control
};

/// A treatment of a valid trial; of one that is split, its product for one application.
///
/// The products of a split treatment follow one another; all but the first are `again`. The
/// scenario of each asks for its share, so that the shares add up to what `whole` asks for.
struct Treatment {
  std::string name{};                             ///< as reports give it
  std::string code{};                             ///< on labels
  TreatmentKind kind = TreatmentKind::nothing;    ///< what it puts on its plots
  std::optional<Scenario> scenario{};             ///< there unless `kind` is nothing
  std::vector<RecipePortion> recipe_kg_per_ha{};  ///< of a fixed recipe
  std::optional<double> product_kg_per_ha{};      ///< where the scenario is per tonne
  int repeat = 1;                                 ///< so often in each replicate
  std::optional<int> replicates{};                ///< only in the first so many of each site
  std::string whole_plot{};                       ///< of a split plot: the whole plot it is part of
  std::size_t application = 0;                    ///< into `Trial::applications`, if there are any
  bool again = false;                             ///< a later application of the one before
  std::string treatment{};                        ///< the treatment this is a product of: its name
  std::string treatment_code{};                   ///< and its code; both as above unless split
  std::optional<Scenario> whole{};                ///< of a split treatment: before it was split
};

/// A valid trial: which products go on which plots, and what there is to make them with.
///
/// Valid by construction; a value. Thread safety: reading is safe on any threads.
class Trial {
 public:
  /// Checks `draft` and resolves it. Throws: InputError with all diagnostics.
  LEASTWISE_API explicit Trial(const TrialDraft& draft);

  /// What reports are headed with.
  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] const std::string& code() const { return code_; }  ///< start of every label
  /// A label; nothing is converted.
  [[nodiscard]] const std::string& currency() const { return currency_; }
  /// Of the randomised layout; nothing: plots stand in order.
  [[nodiscard]] std::optional<std::uint64_t> seed() const { return seed_; }
  /// The day on which the products are mixed, such as `2026-04-03`; may be empty.
  [[nodiscard]] const std::string& mixed_on() const { return mixed_on_; }
  /// What is compared, in the order of the file; a split treatment once for each application.
  [[nodiscard]] std::span<const Treatment> treatments() const { return treatments_; }
  /// Where it is compared.
  [[nodiscard]] std::span<const Site> sites() const { return sites_; }
  /// How much more is made than the plots need.
  [[nodiscard]] double spare_percent() const { return spare_percent_; }
  /// What there is to mix in.
  [[nodiscard]] std::span<const Mixer> mixers() const { return mixers_; }
  /// What there is to pack in.
  [[nodiscard]] std::span<const Container> containers() const { return containers_; }
  /// What there is to weigh on.
  [[nodiscard]] std::span<const Balance> balances() const { return balances_; }
  /// The bag a material is bought in; nothing when no size is known.
  [[nodiscard]] LEASTWISE_API std::optional<double> bag_kg(std::string_view material) const;
  /// As stated, kg per litre; nothing: by table.
  [[nodiscard]] std::optional<double> binder_density_kg_per_l() const { return binder_density_; }
  /// What solved treatments have in common; nothing: each is solved by itself.
  [[nodiscard]] const std::optional<Hold>& hold() const { return hold_; }
  /// kg of a material that need not be bought; 0 when nothing is stated.
  [[nodiscard]] LEASTWISE_API double stock_kg(std::string_view material) const;
  /// Grams kept of each load, on top of the spare.
  [[nodiscard]] double sample_g() const { return sample_g_; }
  /// What thins out powders too little for a balance; empty: an inert powder.
  [[nodiscard]] const std::string& carrier() const { return carrier_; }
  /// What is dissolved and sprayed on the plots where it cannot be mixed.
  [[nodiscard]] const Solutions& solutions() const { return solutions_; }
  /// Sizes of labels, and what they show.
  [[nodiscard]] const LabelLayout& labels() const { return labels_; }
  /// What the products are spread with, if it is known.
  [[nodiscard]] const std::optional<Spreader>& spreader() const { return spreader_; }
  /// The rounds of spreading, in order; empty: everything at once.
  [[nodiscard]] std::span<const Application> applications() const { return applications_; }

 private:
  friend class TrialBuilder;
  Trial() = default;
  std::string title_{};
  std::string code_{};
  std::string currency_{};
  std::optional<std::uint64_t> seed_{};
  std::string mixed_on_{};
  std::vector<Treatment> treatments_{};
  std::vector<Site> sites_{};
  double spare_percent_ = 10;
  std::vector<Mixer> mixers_{};
  std::vector<Container> containers_{};
  std::vector<Balance> balances_{};
  std::vector<BagSize> bags_{};
  std::optional<double> binder_density_{};
  std::optional<Hold> hold_{};
  std::vector<StockItem> stock_{};
  double sample_g_ = 0;
  std::string carrier_{};
  Solutions solutions_{};
  LabelLayout labels_{};
  std::optional<Spreader> spreader_{};
  std::vector<Application> applications_{};
};

}  // namespace leastwise
