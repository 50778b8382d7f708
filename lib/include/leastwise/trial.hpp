#pragma once
#include <leastwise/diagnostic.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/note.hpp>
#include <leastwise/scenario.hpp>

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// How a mixer works, which decides from which mass on it is used.
enum class MixerKind {
  bucket,  ///< a sealed bucket turned end over end by hand: below about 10 kg (common practice)
  drum,    ///< a drum mixer, driven: from about 10 kg up (common practice)
};

[[nodiscard]] std::string_view to_string(MixerKind kind);

/// What a blend is mixed in. One of the two capacities is required; of two the smaller counts.
struct Mixer {
  std::string name{};
  MixerKind kind = MixerKind::drum;
  std::optional<double> capacity_kg{};      ///< of product in one load
  std::optional<double> capacity_litres{};  ///< of product in one load, not of the vessel
};

/// What the product of one plot is packed in.
struct Container {
  std::string name{};
  std::optional<double> capacity_kg{};
  std::optional<double> capacity_litres{};
};

struct Balance {
  std::string name{};
  double capacity_kg = 0;
  double readability_g = 0;  ///< a whole number of milligrams
};

/// What a material is bought in.
struct BagSize {
  std::string material{};  ///< `default` for every material that is not listed
  double kg = 0;
};

/// One material of a fixed recipe.
struct RecipePortion {
  std::string material{};
  double kg_per_ha = 0;
};

/// One line of a trial: a blend to be found, a fixed recipe, or nothing at all.
struct TreatmentDraft {
  std::string name{};
  std::string code{};  ///< on labels; `T1`, `T2` ... when empty
  /// What is to be blended; for a recipe, the materials it draws on and the binder.
  std::optional<Scenario> scenario{};
  std::vector<RecipePortion> recipe_kg_per_ha{};  ///< not empty: this, and nothing is solved
  std::optional<double> product_kg_per_ha{};      ///< needed where the scenario is per tonne
  std::string path{};                             ///< for messages; `treatments.NAME` when empty
};

/// Where plots lie. Every treatment stands `plots_per_treatment` times in each replicate.
struct SiteDraft {
  std::string name{};
  std::string code{};  ///< on labels; `S1`, `S2` ... when empty
  int replicates = 1;
  int plots_per_treatment = 1;
  std::optional<double> plot_length_m{};
  std::optional<double> plot_width_m{};
  std::optional<double> plot_area_m2{};  ///< instead of length and width
};

/// Everything a trial file can say, as plain values: fill it and make a `Trial` of it.
struct TrialDraft {
  std::string title{};
  std::string code{};                   ///< start of every label code; may be empty
  std::string currency{};               ///< that of the first scenario when empty
  std::optional<std::uint64_t> seed{};  ///< of the randomised layout; nothing: in order
  std::vector<TreatmentDraft> treatments{};
  std::vector<SiteDraft> sites{};
  double spare_percent = 10;  ///< on top of what the plots need, for losses and samples
  std::vector<Mixer> mixers{};
  std::vector<Container> containers{};
  std::vector<Balance> balances{};
  std::vector<BagSize> bags{};
  std::optional<double> binder_density_kg_per_l{};

  std::map<std::string, Place, std::less<>> places{};
  std::map<std::string, std::vector<std::string>, std::less<>> source_lines{};
};

enum class TreatmentKind { blend, recipe, nothing };

/// A treatment of a valid trial.
struct Treatment {
  std::string name{};
  std::string code{};
  TreatmentKind kind = TreatmentKind::nothing;
  std::optional<Scenario> scenario{};  ///< there unless `kind` is nothing
  std::vector<RecipePortion> recipe_kg_per_ha{};
  std::optional<double> product_kg_per_ha{};
};

/// A site of a valid trial.
struct Site {
  std::string name{};
  std::string code{};
  int replicates = 1;
  int plots_per_treatment = 1;
  double plot_area_m2 = 0;
  std::optional<double> plot_length_m{};
  std::optional<double> plot_width_m{};
};

/// A valid trial: which products go on which plots, and what there is to make them with.
///
/// Valid by construction; a value. Thread safety: reading is safe on any threads.
class Trial {
 public:
  /// Checks `draft` and resolves it. Throws: InputError with all diagnostics.
  explicit Trial(const TrialDraft& draft);

  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] const std::string& code() const { return code_; }
  [[nodiscard]] const std::string& currency() const { return currency_; }
  [[nodiscard]] std::optional<std::uint64_t> seed() const { return seed_; }
  [[nodiscard]] std::span<const Treatment> treatments() const { return treatments_; }
  [[nodiscard]] std::span<const Site> sites() const { return sites_; }
  [[nodiscard]] double spare_percent() const { return spare_percent_; }
  [[nodiscard]] std::span<const Mixer> mixers() const { return mixers_; }
  [[nodiscard]] std::span<const Container> containers() const { return containers_; }
  [[nodiscard]] std::span<const Balance> balances() const { return balances_; }
  /// The bag a material is bought in; nothing when no size is known.
  [[nodiscard]] std::optional<double> bag_kg(std::string_view material) const;
  [[nodiscard]] std::optional<double> binder_density_kg_per_l() const { return binder_density_; }

 private:
  friend class TrialBuilder;
  Trial() = default;
  std::string title_{};
  std::string code_{};
  std::string currency_{};
  std::optional<std::uint64_t> seed_{};
  std::vector<Treatment> treatments_{};
  std::vector<Site> sites_{};
  double spare_percent_ = 10;
  std::vector<Mixer> mixers_{};
  std::vector<Container> containers_{};
  std::vector<Balance> balances_{};
  std::vector<BagSize> bags_{};
  std::optional<double> binder_density_{};
};

}  // namespace leastwise
