#pragma once
#include <leastwise/export.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace leastwise {

/// A blend of a season as somebody states it.
struct SeasonBlendDraft {
  std::string name{};                   ///< required, unique
  std::optional<Scenario> scenario{};   ///< what it must hold; without a number of bins
  std::optional<Limits> tonnes{};       ///< of product; for a scenario by the tonne
  std::optional<double> hectares{};     ///< to supply; for a scenario by the hectare
  std::optional<double> price_per_t{};  ///< what a tonne of product sells for; needs `tonnes`
  std::string period{};                 ///< in which it is made; required where there are periods
  std::string path{};                   ///< for messages; default: below `blends`
};

/// Kilograms of a material for all blends together.
struct SeasonStockDraft {
  std::string material{};  ///< its name in the scenarios
  Limits kg{};             ///< at most what there is; at least what must be taken
};

/// What arrives of a material at the beginning of a period.
struct SeasonSupplyDraft {
  std::string material{};                            ///< its name in the scenarios
  std::vector<std::pair<std::string, double>> kg{};  ///< by period
};

/// Everything a season file can say, as plain values: fill it and make a `Season` of it.
struct SeasonDraft {
  std::string title{};                         ///< printed on reports; may be empty
  std::vector<SeasonBlendDraft> blends{};      ///< in the order in which a plan one by one goes
  std::vector<std::string> periods{};          ///< in order of time; empty: one
  std::vector<SeasonStockDraft> stock_kg{};    ///< at hand from the beginning
  std::vector<SeasonSupplyDraft> supply_kg{};  ///< later; needs periods
  /// Currency per tonne of a material that is kept from one period to the next; needs periods.
  std::vector<std::pair<std::string, double>> storage_per_t{};

  std::map<std::string, Place, std::less<>> places{};  ///< by dotted path; programs leave it empty
  std::map<std::string, std::vector<std::string>, std::less<>> source_lines{};  ///< by source name
};

/// A blend of a valid season.
struct SeasonBlend {
  std::string name{};                   ///< as reports give it
  Scenario scenario;                    ///< what it must hold
  Limits amount{};                      ///< tonnes, or hectares, by the basis of the scenario
  std::optional<double> price_per_t{};  ///< what a tonne of product sells for
  std::size_t period = 0;               ///< in which it is made
  Place place{};                        ///< of its amount in the file
};

/// A limit on what all blends take of a material from the beginning to the end of a period.
struct SharedLimit {
  std::string material{};  ///< its name in the scenarios
  Limits kg{};             ///< of the sum
  std::size_t period = 0;  ///< the last period that counts
  Place place{};           ///< in the file
};

/// What it costs to keep a material.
struct StorageCost {
  std::string material{};    ///< its name in the scenarios
  double price_per_t = 0;    ///< currency per tonne and period
  std::vector<double> kg{};  ///< by period: all that has arrived by then
};

/// A valid season: many blends, and what they share.
///
/// Valid by construction; a value. Thread safety: reading is safe on any threads.
class Season {
 public:
  /// Checks `draft` and resolves it. Throws: InputError with all diagnostics.
  LEASTWISE_API explicit Season(const SeasonDraft& draft);

  /// What reports are headed with; may be empty.
  [[nodiscard]] const std::string& title() const { return title_; }
  /// The currency of every scenario; a label, may be empty.
  [[nodiscard]] const std::string& currency() const { return currency_; }
  /// What is made, in the order of the file; at least one.
  [[nodiscard]] std::span<const SeasonBlend> blends() const { return blends_; }
  /// Names of the periods in order of time; empty: there is one.
  [[nodiscard]] std::span<const std::string> periods() const { return periods_; }
  /// Limits on materials, in the order of the file, then of time.
  [[nodiscard]] std::span<const SharedLimit> shared() const { return shared_; }
  /// Of the materials whose storage costs something.
  [[nodiscard]] std::span<const StorageCost> storage() const { return storage_; }

 private:
  friend class SeasonBuilder;
  Season() = default;
  std::string title_{};
  std::string currency_{};
  std::vector<SeasonBlend> blends_{};
  std::vector<std::string> periods_{};
  std::vector<SharedLimit> shared_{};
  std::vector<StorageCost> storage_{};
};

}  // namespace leastwise
