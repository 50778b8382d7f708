#pragma once
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/known.hpp>
#include <leastwise/outcome.hpp>
#include <leastwise/season.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// One blend of a planned season.
struct SeasonBlendPlan {
  std::string name{};                ///< as in the season
  std::size_t period = 0;            ///< in which it is made
  double tonnes = 0;                 ///< of product
  std::optional<double> hectares{};  ///< that it supplies; for scenarios by the hectare
  std::optional<Blend> blend{};      ///< its recipe, without prices of rules; empty: none is made
  double cost = 0;                   ///< currency, of all tonnes
  std::optional<double> revenue{};   ///< currency, where a selling price is stated
  /// What the season's cost rises by with a tonne more of it, or a hectare: its share of what is
  /// scarce included. Only where the amount is given exactly.
  Known<double> marginal_cost{};
  /// Per tonne of product if nothing were shared; none: it cannot be made at all.
  Known<double> cost_alone_per_t{};
};

/// What one blend takes of a shared material.
struct SharedUse {
  std::size_t blend = 0;  ///< into `SeasonPlan::blends`
  double kg = 0;          ///< in the plan
  double kg_alone = 0;    ///< the same amount of product by the recipe it has if nothing is shared
};

/// A shared limit in the plan, and what it is worth.
///
/// Signs as for `BindingRule`: the price is d(cost)/d(limit), here per tonne of the material. Stock
/// that runs out has a price <= 0: a tonne more saves that much. A minimum has one >= 0.
struct SharedLimitPlan {
  std::string material{};             ///< its name
  RuleSide side = RuleSide::max;      ///< which side of the sum is limited
  std::size_t period = 0;             ///< the last period that counts
  std::string yard{};                 ///< from which alone it counts; empty: from everywhere
  double limit_kg = 0;                ///< as stated, with all that has arrived by then
  double used_kg = 0;                 ///< by all blends up to then
  double shadow_price_per_t = 0;      ///< currency per tonne of the limit; 0: it is not reached
  Known<double> holds_from_kg{};      ///< the price stays the same for limits in [from, to];
  Known<double> holds_to_kg{};        ///< none: no end on that side
  Known<double> price_below_per_t{};  ///< just below the limit; none: no plan there
  Known<double> price_above_per_t{};  ///< just above the limit; none: no plan there
  /// False: the limit sits on a kink, and the price is one of several valid ones. Empty while a
  /// side is not computed.
  std::optional<bool> unique{};
  std::vector<SharedUse> uses{};  ///< every blend that takes it, or would alone
  Place place{};                  ///< in the file
};

/// What the whole plan takes of a material.
struct SeasonPurchase {
  std::string material{};  ///< its name
  std::size_t period = 0;  ///< in which it is used
  double kg = 0;           ///< in all blends of that period
  double cost = 0;         ///< currency, freight included
};

/// What comes from a yard.
struct SeasonTransport {
  std::string yard{};      ///< its name
  std::string material{};  ///< its name
  double kg = 0;           ///< for all blends
  double cost = 0;         ///< currency, of the transport
};

/// What a run of blends takes of its bins.
struct SeasonRunPlan {
  std::string name{};                    ///< as in the season
  int bins = 0;                          ///< there are
  std::vector<std::string> materials{};  ///< granular ones in use, in order of first use
  /// What one bin more would save, currency; only where all bins are in use.
  Known<double> saved_by_one_more{};
};

/// What planning the blends one by one comes to, in the order of the file: each takes the cheapest
/// recipe that the rest of the stock allows.
struct OneByOne {
  Status status = Status::stopped;     ///< `infeasible`: some blend finds too little left
  std::optional<double> cost{};        ///< currency, less revenue; empty unless optimal
  std::optional<std::size_t> blend{};  ///< the first that cannot be made
};

/// One rule of a conflict between blends.
struct SeasonConflictRule {
  /// Whose rule it is.
  enum class Of {
    blend,   ///< a rule of that blend's scenario
    amount,  ///< the tonnes or hectares of that blend
    shared,  ///< a limit on a material, or the lot that it is bought in
    run,     ///< the bins of a run
  };
  Of of = Of::blend;  ///< whose rule it is
  /// Of the blend, of the limit in `Season::shared`, of the lot in `Season::goods`, or of the run.
  std::size_t index = 0;
  std::string name{};      ///< of the blend, of the material or of the run
  std::size_t period = 0;  ///< in which the blend is made; the last that the limit counts
  ConflictingRule rule{};  ///< amounts in tonnes or hectares, limits on materials in kg
};

/// A blend that no stock could serve: its scenario conflicts with itself.
struct ImpossibleBlend {
  std::size_t blend = 0;  ///< into `Season::blends`
  std::string name{};     ///< of the blend
  Conflict conflict{};    ///< why
};

/// The answer to a season: what to make of what, at the least cost, or the most left of the
/// revenue. `outcome.status` says which of the fields hold something.
struct SeasonPlan {
  std::string title{};                 ///< of the season
  std::string currency{};              ///< a label
  std::vector<std::string> periods{};  ///< names; empty: there is one
  Outcome outcome{};                   ///< `conflict` in it is empty: see below

  // When optimal:
  std::optional<double> cost{};              ///< currency, of all blends and storage
  std::optional<double> storage_cost{};      ///< the part of it that storage costs
  std::optional<double> revenue{};           ///< of the blends with a selling price
  std::vector<SeasonBlendPlan> blends{};     ///< along `Season::blends`
  std::vector<SharedLimitPlan> shared{};     ///< in the order of the season
  std::vector<SeasonPurchase> purchases{};   ///< by period, in order of first use
  std::vector<BlendPurchase> by_quantity{};  ///< of materials with price tiers or lots
  std::vector<SeasonTransport> transport{};  ///< by material, then yard
  std::vector<SeasonRunPlan> runs{};         ///< in the order of the season
  /// Cost less revenue if nothing were shared, all bought at its best price: the plan cannot come
  /// below it.
  std::optional<double> cost_apart{};
  /// Why it pays to plan them together; not asked where they buy together or share bins.
  Known<OneByOne> one_by_one{};
  Certificate certificate{};  ///< of the whole

  // When infeasible:
  std::vector<ImpossibleBlend> impossible{};   ///< blends that conflict by themselves, or else
  std::vector<SeasonConflictRule> conflict{};  ///< rules across blends
  bool irreducible = false;                    ///< true: without any one of them the rest agree
};

/// Plans all blends of `season` at once: one linear program with a block for each blend and a row
/// for each shared limit, either-or rules by the same search as for one blend, held against every
/// scenario's own numbers and against the shared limits.
///
/// Where the cheapest recipe of each blend leaves every limit unreached, each blend is what
/// `formulate` answers.
/// Throws: std::bad_alloc, and what `limits.progress` throws.
/// Thread safety and determinism: as `formulate`.
[[nodiscard]] LEASTWISE_API SeasonPlan plan_season(const Season& season,
                                                   const SolveOptions& limits = {});

}  // namespace leastwise
