#include "analysis/risk/risk_run.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

#include "base/in_parallel.hpp"
#include "scenario/units.hpp"

namespace leastwise::analysis {
namespace {

using solver::SearchStatus;

constexpr std::size_t stream_count = 16;
constexpr std::size_t most_first_draws = 512;

/// How many draws are solved before the others are dealt out.
std::size_t first_draws(std::size_t draws) {
  return draws < 4 * stream_count ? draws : std::min(most_first_draws, draws / 32);
}

}  // namespace

RiskRun::RiskRun(const Scenario& scenario, const PriceUncertainty& uncertainty,
                 const PriceModel& shared, const std::vector<double>& today,
                 const solver::SearchOptions& search, const RiskOptions& options)
    : scenario_(scenario),
      shared_(shared),
      today_(today),
      search_options_(search),
      options_(options),
      prices_(scenario, uncertainty),
      first_(shared, search),
      draws_(static_cast<std::size_t>(uncertainty.draws.value_or(default_draws))),
      price_sums_(scenario.materials().size()) {}

bool RiskRun::out_of_time(Stream& stream) const {
  if (search_options_.stop.stop_requested()) stream.stopped = SearchStatus::cancelled;
  if (search_options_.deadline && std::chrono::steady_clock::now() >= *search_options_.deadline)
    stream.stopped = SearchStatus::time_limit;
  return stream.stopped.has_value() || give_up_;
}

void RiskRun::tell(std::size_t finished) {
  if (!options_.progress) return;
  const std::lock_guard lock(telling_);
  options_.progress(static_cast<long>(finished), static_cast<long>(draws_.size()));
}

/// Sets the costs of the model's columns. Returns: what today's recipe costs then.
double RiskRun::reprice(const std::vector<double>& change_per_kg, std::vector<double>& cost) const {
  double fixed = 0;
  for (std::size_t j = 0; j < cost.size(); ++j) {
    if (shared_.model.material_of[j] < 0) continue;
    cost[j] = shared_.model.cost[j] +
              change_per_kg[static_cast<std::size_t>(shared_.model.material_of[j])];
    fixed += cost[j] * today_[j];
  }
  return fixed;
}

/// Writes down what was found for a draw whose fixed cost is known. Returns: why it is no answer.
std::optional<SearchStatus> RiskRun::settle(const PriceSearch::Answer& answer, RiskDraw& drawn) {
  if (answer.status == SearchStatus::infeasible) return SearchStatus::failed;
  if (answer.status != SearchStatus::optimal) return answer.status;
  const double fixed = drawn.fixed_cost;
  // Today's recipe is possible whatever the prices, so the cheapest cannot cost more.
  if (answer.cost > fixed + 1e-8 * std::max(1.0, std::fabs(fixed))) return SearchStatus::failed;
  // The same recipe, added up in another order, saves nothing.
  const double rounding = 1e-12 * std::fabs(fixed);
  drawn.reoptimised_cost = answer.cost < fixed - rounding ? answer.cost : fixed;
  drawn.recipe = answer.recipe;
  return std::nullopt;
}

void RiskRun::solve(Stream& stream, PriceSearch& search) {
  constexpr std::size_t now_and_then = 64;
  stream.price_sums.resize(price_sums_.size());
  stream.end = stream.from;
  PriceDraws drawing = prices_;
  std::vector<double> prices;
  std::vector<double> cost = shared_.data.cost;
  // Side by side, as the inner loops read them.
  std::vector<double> prices_today;
  for (const auto& material : scenario_.materials()) prices_today.push_back(material.price_per_t);
  std::vector<double> change(prices_today.size());
  std::vector<double> change_per_kg(prices_today.size());
  for (std::size_t n = stream.from; n < stream.to; ++n) {
    if ((n - stream.from) % now_and_then == 0) {
      if (out_of_time(stream)) break;
      if (n > stream.from) tell(finished_ += now_and_then);
    }
    stream.at_zero += drawing.draw(n, prices);
    RiskDraw& drawn = draws_[n];
    for (std::size_t i = 0; i < change.size(); ++i) {
      change[i] = prices[i] - prices_today[i];
      change_per_kg[i] = change[i] / kg_per_tonne;
    }
    drawn.fixed_cost = reprice(change_per_kg, cost);
    const auto answer = search.cheapest(cost);
    stream.stopped = settle(answer, drawn);
    if (stream.stopped) break;
    stream.end = n + 1;
    stream.searches += answer.searched ? 1 : 0;
    for (std::size_t i = 0; i < change.size(); ++i) {
      stream.price_sums[i].sum += change[i];
      stream.price_sums[i].squares += change[i] * change[i];
    }
  }
  if (stream.stopped) give_up_ = true;
  stream.recipes = search.recipes();
}

/// Adds a stream's diagnostics and renumbers its recipes.
void RiskRun::collect(const Stream& stream) {
  for (std::size_t i = 0; i < stream.price_sums.size(); ++i) {
    price_sums_[i].sum += stream.price_sums[i].sum;
    price_sums_[i].squares += stream.price_sums[i].squares;
  }
  at_zero_ += stream.at_zero;
  searches_ += stream.searches;
  if (stream.stopped && !stopped_) stopped_ = stream.stopped;
  std::vector<std::optional<std::size_t>> number(stream.recipes.size());
  for (std::size_t n = stream.from; n < stream.end; ++n) {
    auto& known = number[draws_[n].recipe];
    if (!known) known = first_.recipe_of(stream.recipes[draws_[n].recipe]);
    draws_[n].recipe = *known;
  }
}

/// Leaves out the draws that a stream did not come to.
void RiskRun::close_gaps(const std::vector<Stream>& streams) {
  std::size_t kept = 0;
  for (const Stream& stream : streams) {
    if (kept < stream.from)
      std::move(draws_.begin() + static_cast<std::ptrdiff_t>(stream.from),
                draws_.begin() + static_cast<std::ptrdiff_t>(stream.end),
                draws_.begin() + static_cast<std::ptrdiff_t>(kept));
    kept += stream.end - stream.from;
  }
  draws_.resize(kept);
}

unsigned threads_of(const RiskOptions& options) {
  return options.threads > 0 ? options.threads : std::max(1U, std::thread::hardware_concurrency());
}

void RiskRun::run() {
  Stream opening;
  opening.to = first_draws(draws_.size());
  solve(opening, first_);
  finished_ = opening.to;
  const std::size_t left = draws_.size() - opening.to;
  std::vector<Stream> dealt(left == 0 ? 0 : stream_count);
  for (std::size_t k = 0; k < dealt.size(); ++k) {
    dealt[k].from = dealt[k].end = opening.to + left * k / stream_count;
    dealt[k].to = opening.to + left * (k + 1) / stream_count;
  }
  const PriceSearch& start = first_;
  base::in_parallel(dealt.size(), threads_of(options_), [&](std::size_t k) {
    if (give_up_) return;
    try {
      PriceSearch search = start;
      // Worked on apart: side by side in memory, streams of two threads would hinder one another.
      Stream own = dealt[k];
      solve(own, search);
      dealt[k] = std::move(own);
    } catch (...) {
      give_up_ = true;
      throw;
    }
  });
  dealt.insert(dealt.begin(), std::move(opening));
  for (const auto& stream : dealt) collect(stream);
  close_gaps(dealt);
}

}  // namespace leastwise::analysis
