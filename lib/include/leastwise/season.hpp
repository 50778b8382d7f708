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

/// How a material is bought for all blends together.
struct SeasonPurchaseDraft {
  std::string material{};                     ///< its name in the scenarios
  std::vector<PriceTierDraft> price_tiers{};  ///< in place of the price in the scenarios
  std::optional<double> minimum_lot_t{};      ///< none is bought, or at least so much
};

/// A yard from which materials are brought.
struct SeasonYardDraft {
  std::string name{};                                             ///< unique
  std::vector<SeasonStockDraft> stock_kg{};                       ///< what lies there
  std::vector<std::pair<std::string, double>> transport_per_t{};  ///< currency, by material
};

/// Blends made in one run, from one set of bins.
struct SeasonRunDraft {
  std::string name{};                 ///< unique
  std::vector<std::string> blends{};  ///< their names; each in one run at most
  int bins = 0;                       ///< granular materials of all of them together, at most
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
  std::vector<SeasonPurchaseDraft> purchases{};  ///< prices by quantity, and lots
  std::vector<SeasonYardDraft> yards{};          ///< a material that one has comes from them alone
  std::vector<SeasonRunDraft> runs{};            ///< that share bins

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
  std::string yard{};      ///< counts only what comes from there; empty: counts all
};

/// A yard from which a material may come.
struct SeasonSource {
  std::string yard{};                  ///< its name
  double transport_per_t = 0;          ///< currency
  std::optional<std::size_t> limit{};  ///< into `Season::shared()`: what lies there
};

/// A material that all blends buy together, or that comes from several yards. The scenarios have it
/// at its best price, brought from the cheapest yard.
struct SeasonGoods {
  std::string material{};                 ///< its name in the scenarios
  std::vector<PriceTier> price_tiers{};   ///< empty: the price in the scenarios
  TierPrice tier_price = TierPrice::all;  ///< what they are for
  std::optional<double> minimum_lot_t{};  ///< none is bought, or at least so much
  std::vector<SeasonSource> sources{};    ///< empty: it is there
  Place place{};                          ///< of its purchase in the file

  /// The least a tonne can cost of the tiers; 0 without.
  [[nodiscard]] double best_price() const {
    return price_tiers.empty()            ? 0
           : tier_price == TierPrice::all ? price_tiers.back().price_per_t
                                          : price_tiers.front().price_per_t;
  }
  /// The least that its transport can cost a tonne; 0 without yards.
  [[nodiscard]] double best_transport() const {
    double least = sources.empty() ? 0 : sources.front().transport_per_t;
    for (const auto& source : sources)
      if (source.transport_per_t < least) least = source.transport_per_t;
    return least;
  }
};

/// Blends that share a set of bins.
struct SeasonRun {
  std::string name{};                 ///< as reports give it
  std::vector<std::size_t> blends{};  ///< into `Season::blends()`
  int bins = 0;                       ///< granular materials of all of them together, at most
  Place place{};                      ///< in the file
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
  /// Materials that are bought for all blends together, or come from yards.
  [[nodiscard]] std::span<const SeasonGoods> goods() const { return goods_; }
  /// Blends that share bins.
  [[nodiscard]] std::span<const SeasonRun> runs() const { return runs_; }

 private:
  friend class SeasonBuilder;
  Season() = default;
  std::string title_{};
  std::string currency_{};
  std::vector<SeasonBlend> blends_{};
  std::vector<std::string> periods_{};
  std::vector<SharedLimit> shared_{};
  std::vector<StorageCost> storage_{};
  std::vector<SeasonGoods> goods_{};
  std::vector<SeasonRun> runs_{};
};

}  // namespace leastwise
