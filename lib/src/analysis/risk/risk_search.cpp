#include "analysis/risk/risk_search.hpp"

#include <algorithm>
#include <cmath>

#include "solver/certificate.hpp"

namespace leastwise::analysis {
namespace {

using model::infinity;
using solver::SearchStatus;

constexpr std::size_t bytes_of_root_bases = std::size_t{4} << 20U;
constexpr std::size_t recipes_to_begin_with = 128;
/// A basis that is off by more may not prove anything.
constexpr double basis_tolerance = 1e-9;
/// A blend counts as cheaper only beyond this share of the cost, as in the search.
constexpr double improvement = 1e-10;

double dot(const std::vector<double>& cost, const std::vector<double>& x) {
  double sum = 0;
  for (std::size_t j = 0; j < x.size(); ++j) sum += cost[j] * x[j];
  return sum;
}

}  // namespace

PriceModel::PriceModel(const model::Model& source)
    : model(source),
      data(solver::relaxation(source)),
      branching(source),
      either_or(source.either_or()) {}

PriceSearch::PriceSearch(const PriceModel& shared, const solver::SearchOptions& options)
    : shared_(&shared),
      options_(&options),
      data_(shared.data),
      simplex_(shared.data),
      obeying_(shared.columns(), recipes_to_begin_with) {
  usable_ = open_root();
}

bool PriceSearch::open_root() {
  const std::size_t most =
      std::clamp<std::size_t>(bytes_of_root_bases / shared_->bytes_of_basis(), 4, 160);
  branches_.emplace_back(shared_->columns(),
                         shared_->either_or ? std::min<std::size_t>(most, 16) : most);
  return simplex_.solve(options_->deadline, infinity) == solver::DenseOutcome::optimal &&
         admit(0, shared_->data.cost) != nullptr;
}

bool PriceSearch::apply_bounds(const PriceBranch& branch) {
  shared_->branching.apply(branch.path, bounds_);
  if (bounds_.contradictory) return false;
  data_.lower = bounds_.lower;
  data_.upper = bounds_.upper;
  const auto& minima = shared_->model.minima;
  for (std::size_t k = 0; k < minima.size(); ++k)
    if (minima[k].row >= 0 && minima[k].active)
      data_.row_lower[static_cast<std::size_t>(minima[k].row)] =
          bounds_.minimum_on[k] ? 0 : -infinity;
  return true;
}

/// Reads the blend of the present basis. Returns: whether it stands up against the model's own
/// rows, within the bounds that were laid: feasible, its duals a bound that equals the cost.
bool PriceSearch::read_proved(const std::vector<double>& cost, std::vector<double>& x) {
  std::vector<double> y;
  simplex_.read(x, y);
  for (std::size_t j = 0; j < x.size(); ++j)
    x[j] = std::clamp(x[j], data_.lower[j], data_.upper[j]) + 0.0;  // no minus zero
  solver::round_small_to_zero(data_, x);
  data_.cost = cost;
  if (solver::primal_violation(data_, x) > basis_tolerance) return false;
  solver::clean_duals(data_, y);
  const auto proof = solver::dual_proof(data_, y);
  const double value = dot(cost, x);
  return proof.violation <= basis_tolerance &&
         std::fabs(value - proof.bound) <= basis_tolerance * std::max(1.0, std::fabs(value));
}

/// Checks the present basis and takes it among the known ones; null when it does not hold.
const Vertex* PriceSearch::admit(std::size_t node, const std::vector<double>& cost) {
  if (!apply_bounds(branches_[node]) || !simplex_.make_sound() ||
      simplex_.solve(options_->deadline, infinity) != solver::DenseOutcome::optimal)
    return nullptr;
  std::vector<double> x;
  if (!read_proved(cost, x)) return nullptr;
  auto vertex = std::make_shared<Vertex>(
      Vertex{simplex_.state(), simplex_.warm_start(), std::move(x), true, 0});
  vertex->feasible =
      !shared_->either_or || !shared_->branching.branch(vertex->x, branches_[node].path);
  if (vertex->feasible) vertex->recipe = recipe_of(vertex->x);
  remember(branches_[node], vertex);
  return vertex.get();
}

void PriceSearch::remember(PriceBranch& branch, const std::shared_ptr<const Vertex>& vertex) {
  const std::size_t slot = branch.known.add(vertex->x);
  if (slot < branch.vertices.size())
    branch.vertices[slot] = vertex;
  else
    branch.vertices.push_back(vertex);
}

std::size_t PriceSearch::recipe_of(const std::vector<double>& x) {
  std::vector<bool> support(x.size());
  double largest = 0;
  for (std::size_t j = 0; j < x.size(); ++j) {
    support[j] = x[j] > 0;
    largest = std::max(largest, x[j]);
  }
  auto& alike = by_support_[support];
  for (const std::size_t k : alike) {
    double apart = 0;
    for (std::size_t j = 0; j < x.size(); ++j)
      apart = std::max(apart, std::fabs(recipes_[k][j] - x[j]));
    if (apart <= 1e-8 * largest) return k;
  }
  const std::size_t number = recipes_.size();
  alike.push_back(number);
  recipes_.push_back(x);
  if (shared_->either_or) {
    const std::size_t slot = obeying_.add(x);
    if (slot < obeying_recipe_.size())
      obeying_recipe_[slot] = number;
    else
      obeying_recipe_.push_back(number);
  }
  return number;
}

double PriceSearch::cutoff() const {
  if (!best_recipe_) return infinity;
  return best_cost_ - improvement * std::max(1.0, std::fabs(best_cost_));
}

bool PriceSearch::out_of_time() {
  if (options_->stop.stop_requested()) stopped_ = SearchStatus::cancelled;
  if (options_->deadline && std::chrono::steady_clock::now() >= *options_->deadline)
    stopped_ = SearchStatus::time_limit;
  return stopped_.has_value();
}

/// The known vertex of a branch at whose basis the simplex stands; null when it is a new one.
const Vertex* PriceSearch::known_here(std::size_t node) {
  PriceBranch& branch = branches_[node];
  const auto basis = simplex_.warm_start();
  for (std::size_t k = 0; k < branch.vertices.size(); ++k) {
    if (branch.vertices[k]->basis != basis) continue;
    branch.known.credit(k);
    return branch.vertices[k].get();
  }
  return nullptr;
}

/// Finds what is cheapest in a branch, or proves that nothing in it is cheaper than the best so
/// far. False: given up, the draw takes a full search.
bool PriceSearch::visit(std::size_t node, const std::vector<double>& cost) {
  if (branches_[node].infeasible) return true;
  constexpr long now_and_then = 256;
  if (++visits_ % now_and_then == 0 && out_of_time()) return false;
  PriceBranch& branch = branches_[node];
  const std::size_t start = branch.known.cheapest(cost);
  const Vertex* vertex = branch.vertices[start].get();
  if (simplex_.is_best(vertex->state)) {
    branch.known.credit(start);
  } else {
    simplex_.stand_at(vertex->state);
    simplex_.improve();
    if (best_recipe_ && branch.known.full() && simplex_.proves(cutoff())) return true;
    vertex = known_here(node);
    if (vertex == nullptr) vertex = admit(node, cost);
    if (vertex == nullptr) return false;
  }
  const double value = dot(cost, vertex->x);
  if (value >= cutoff()) return true;
  if (vertex->feasible) {
    best_cost_ = value;
    best_recipe_ = vertex->recipe;
    return true;
  }
  if (!branches_[node].children && !split(node, *vertex, cost)) return false;
  const auto [first, second] = *branches_[node].children;
  return visit(first, cost) && visit(second, cost);
}

PriceSearch::Answer PriceSearch::full_search(const std::vector<double>& cost) {
  model::Model priced = shared_->model;
  priced.cost = cost;
  const auto result = solver::search(priced, *options_);
  Answer answer;
  answer.searched = true;
  answer.status = result.status;
  if (result.status != SearchStatus::optimal) return answer;
  answer.recipe = recipe_of(result.x);
  answer.cost = dot(cost, recipes_[answer.recipe]);
  return answer;
}

PriceSearch::Answer PriceSearch::cheapest(const std::vector<double>& cost) {
  constexpr long window = 64;
  if (!usable_) return full_search(cost);
  if (full_searches_to_go_ > 0) {
    --full_searches_to_go_;
    return full_search(cost);
  }
  best_recipe_.reset();
  simplex_.set_costs(cost);
  if (shared_->either_or && obeying_.size() > 0) {
    const std::size_t slot = obeying_.cheapest(cost);
    obeying_.credit(slot);
    best_recipe_ = obeying_recipe_[slot];
    best_cost_ = dot(cost, recipes_[*best_recipe_]);
  }
  if (visit(0, cost) && best_recipe_) {
    given_up_ = std::max(0L, given_up_ - 1);
    return {SearchStatus::optimal, best_cost_, *best_recipe_, false};
  }
  if (stopped_) return {*stopped_, 0, 0, false};
  // Where trying to do without a search keeps failing, it is left off for a while.
  given_up_ += 2;
  if (given_up_ >= window) {
    given_up_ = 0;
    full_searches_to_go_ = 8 * window;
  }
  return full_search(cost);
}

}  // namespace leastwise::analysis
