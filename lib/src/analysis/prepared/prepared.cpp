#include <leastwise/prepared.hpp>

#include <algorithm>
#include <mutex>
#include <stdexcept>
#include <thread>
#include <utility>

#include "analysis/prepared/changed_draft.hpp"
#include "base/in_parallel.hpp"
#include "base/text/wording.hpp"
#include "model/model.hpp"
#include "scenario/builder.hpp"
#include "scenario/price_edit.hpp"
#include "scenario/values_read.hpp"
#include "solve/answer.hpp"

namespace leastwise {
namespace analysis {

/// The scenario and its model, to be given other prices and the old ones back.
class Workplace {
 public:
  explicit Workplace(const Scenario& scenario)
      : scenario_(scenario),
        model_(model::build(scenario_)),
        column_of_(scenario_.materials().size(), -1) {
    for (std::size_t j = 0; j < model_.material_of.size(); ++j)
      if (model_.material_of[j] >= 0)
        column_of_[static_cast<std::size_t>(model_.material_of[j])] = static_cast<int>(j);
  }

  [[nodiscard]] Formulation formulate(const std::vector<WhatIf::Price>& prices,
                                      const SolveOptions& options) {
    const OldPrices before(*this, prices);
    return solve::formulate(scenario_, model_, options, solver::Root::as_clp);
  }

 private:
  /// Sets prices, and sets them back at the end.
  class OldPrices {
   public:
    OldPrices(Workplace& place, const std::vector<WhatIf::Price>& prices) : place_(place) {
      for (const auto& price : prices) {
        const auto i = PriceEdit::checked(place.scenario_, price.material, price.price_per_t);
        before_.emplace_back(i, place.scenario_.materials()[i].price_per_t);
        place.set(i, price.price_per_t);
      }
    }
    OldPrices(const OldPrices&) = delete;
    OldPrices& operator=(const OldPrices&) = delete;
    OldPrices(OldPrices&&) = delete;
    OldPrices& operator=(OldPrices&&) = delete;
    ~OldPrices() {
      for (auto old = before_.rbegin(); old != before_.rend(); ++old)
        place_.set(old->first, old->second);
    }

   private:
    Workplace& place_;
    std::vector<std::pair<std::size_t, double>> before_{};
  };

  void set(std::size_t i, double price_per_t) {
    PriceEdit(scenario_).set(i, price_per_t);
    if (column_of_[i] >= 0)
      model_.cost[static_cast<std::size_t>(column_of_[i])] = scenario_.cost_per_kg(i);
  }

  Scenario scenario_;
  model::Model model_;
  std::vector<int> column_of_;  ///< of each material, or -1
};

}  // namespace analysis

/// The scenario, and as many workplaces as calls were ever at work at once.
class PreparedBlend::Kept {
 public:
  explicit Kept(Scenario scenario) : scenario_(std::move(scenario)) {}

  [[nodiscard]] const Scenario& scenario() const { return scenario_; }

  [[nodiscard]] Formulation formulate(const std::vector<WhatIf::Price>& prices,
                                      const SolveOptions& options) {
    auto place = take();
    auto answer = place->formulate(prices, options);
    const std::scoped_lock lock(guard_);
    idle_.push_back(std::move(place));
    return answer;
  }

 private:
  [[nodiscard]] std::unique_ptr<analysis::Workplace> take() {
    {
      const std::scoped_lock lock(guard_);
      if (!idle_.empty()) {
        auto place = std::move(idle_.back());
        idle_.pop_back();
        return place;
      }
    }
    return std::make_unique<analysis::Workplace>(scenario_);
  }

  Scenario scenario_;
  std::mutex guard_{};
  std::vector<std::unique_ptr<analysis::Workplace>> idle_{};
};

PreparedBlend::PreparedBlend(Scenario scenario)
    : kept_(std::make_shared<Kept>(std::move(scenario))) {}

const Scenario& PreparedBlend::scenario() const { return kept_->scenario(); }

Scenario PreparedBlend::changed(const WhatIf& change) const {
  const Scenario& before = scenario();
  if (change.limits.empty() && change.without.empty()) {
    Scenario priced = before;
    for (const auto& price : change.prices)
      priced = priced.with_price(price.material, price.price_per_t);
    return priced;
  }
  for (const auto& material : change.without)
    if (!before.index_of(material))
      throw std::out_of_range("the scenario has no material " + in_quotes(material));
  ScenarioDraft draft = before.draft();
  for (const auto& [rule, limit] : change.limits) analysis::move_limit(draft, rule, limit);
  for (const auto& material : change.without) analysis::leave_out(draft, material);
  forget_changed_places(draft);
  Scenario made = ScenarioBuilder(std::move(draft), Reading{}, {}, &before).build();
  for (const auto& price : change.prices) made = made.with_price(price.material, price.price_per_t);
  return made;
}

Formulation PreparedBlend::formulate(const WhatIf& change, const SolveOptions& options) const {
  // A price replaces all the tiers of a material, and with them columns of the model.
  const bool replaces_tiers = !change.prices.empty() && scenario().has_price_tiers();
  if (change.limits.empty() && change.without.empty() && !replaces_tiers)
    return kept_->formulate(change.prices, options);
  const Scenario made = changed(change);
  return solve::formulate(made, model::build(made), options, solver::Root::as_clp);
}

Formulation PreparedBlend::with_price(std::string material, double price_per_t,
                                      const SolveOptions& options) const {
  return formulate({.prices = {{std::move(material), price_per_t}}}, options);
}

Formulation PreparedBlend::with_limit(RuleId rule, double limit,
                                      const SolveOptions& options) const {
  return formulate({.limits = {{std::move(rule), limit}}}, options);
}

Formulation PreparedBlend::without(std::string material, const SolveOptions& options) const {
  return formulate({.without = {std::move(material)}}, options);
}

std::vector<Formulation> formulate_many(const PreparedBlend& prepared,
                                        std::span<const WhatIf> changes, unsigned threads,
                                        const SolveOptions& options) {
  if (threads == 0) threads = std::max(1u, std::thread::hardware_concurrency());
  SolveOptions quiet = options;
  quiet.progress = {};
  std::vector<std::optional<Formulation>> answers(changes.size());
  base::in_parallel(changes.size(), threads, [&](std::size_t k) {
    answers[k].emplace(prepared.formulate(changes[k], quiet));
  });
  std::vector<Formulation> list;
  list.reserve(answers.size());
  for (auto& answer : answers) list.push_back(std::move(*answer));
  return list;
}

}  // namespace leastwise
