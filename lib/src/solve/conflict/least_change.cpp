#include "solve/conflict/least_change.hpp"

#include <algorithm>
#include <utility>

#include "solve/conflict/change_program.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using model::Model;
using solver::SearchStatus;

/// A change smaller by less than this part of it is not looked for.
constexpr double improvement = 1e-5;
/// Linear programs after which the proof is given up. A count and no time, so that equal input
/// gives equal output.
constexpr long most_bounding_programs = 5000;
/// How often the product is made four times as much or as little to find where no smaller change
/// is left.
constexpr int most_steps = 8;
constexpr double step_factor = 4;
/// A box is cut no nearer to its ends than by this part of it.
constexpr double least_part = 0.1;

/// A part of the blends, and the least change that any of them needs.
struct Box {
  ChangeBox box{};
  double bound = 0;
  std::vector<double> x{};  ///< the point of the program where the bound is reached
};

bool needs_more(const Box& a, const Box& b) { return a.bound > b.bound; }

double least_bound(const std::vector<Box>& parts) {
  double least = infinity;
  for (const auto& part : parts) least = std::min(least, part.bound);
  return least;
}

class Divider {
 public:
  Divider(const Model& elastic, const std::vector<Surplus>& surplus, std::vector<double> x,
          const solver::SearchOptions& options)
      : elastic_(elastic),
        surplus_(surplus),
        options_(options),
        program_(elastic, surplus),
        best_(std::move(x)),
        least_(relative_change(elastic, surplus, best_)) {}

  LeastChange search();

 private:
  [[nodiscard]] ChangeBox first_box();
  [[nodiscard]] double end_of_product(const ChangeBox& box, Scaled scaled);
  bool excluded(ChangeBox box, double product, Scaled scaled);
  bool open(Box& part, Scaled scaled = Scaled::no);
  void consider(const std::vector<double>& x);
  void look_at(const Box& part);
  [[nodiscard]] std::vector<Box> divided(const Box& part);
  [[nodiscard]] std::vector<Box> halves(const Box& part, std::size_t k, bool by_amount);
  [[nodiscard]] bool is_settled(const Box& part) const {
    return part.bound >= least_ * (1 - improvement);
  }
  [[nodiscard]] bool goes_on() const { return !stopped_ && programs_ <= most_bounding_programs; }

  const Model& elastic_;
  const std::vector<Surplus>& surplus_;
  const solver::SearchOptions& options_;
  ChangeProgram program_;
  std::vector<double> best_;
  double least_;
  long programs_ = 0;
  bool proved_ = true;
  bool stopped_ = false;
};

/// Bounds a part. Returns: whether a smaller change than the best may lie in it.
bool Divider::open(Box& part, Scaled scaled) {
  for (auto& range : part.box) {
    range.change_to = std::min(range.change_to, least_);
    if (range.change_from > range.change_to) return false;
  }
  auto options = options_;
  options.cutoff = least_ * (1 - improvement);
  auto found = program_.bound(part.box, scaled, options);
  programs_ += found.nodes;
  if (found.status == SearchStatus::infeasible) return false;
  if (found.status != SearchStatus::optimal) {
    proved_ = false;
    stopped_ = stopped_ || found.status != SearchStatus::failed;
    return false;
  }
  part.bound = found.cost;
  part.x = std::move(found.x);
  return true;
}

void Divider::consider(const std::vector<double>& x) {
  std::vector<double> own(x.begin(), x.begin() + elastic_.columns);
  const double change = relative_change(elastic_, surplus_, own);
  if (change >= least_) return;
  least_ = change;
  best_ = std::move(own);
}

/// Takes the blend of a part, and the best one of equal amounts: their bound is exact.
void Divider::look_at(const Box& part) {
  consider(part.x);
  Box point = part;
  for (std::size_t k = 0; k < point.box.size(); ++k) {
    const double amount = program_.amount(k, part.x);
    point.box[k] = {amount, amount};
  }
  if (open(point)) consider(point.x);
}

std::vector<Box> Divider::halves(const Box& part, std::size_t k, bool by_amount) {
  const auto cut = [](double& from, double& to, double at, bool low) {
    const double margin = least_part * (to - from);
    (low ? to : from) = std::clamp(at, from + margin, to - margin);
  };
  std::vector<Box> halves;
  for (const bool low : {true, false}) {
    Box half = part;
    auto& range = half.box[k];
    if (by_amount)
      cut(range.from, range.to, program_.amount(k, part.x), low);
    else
      cut(range.change_from, range.change_to, program_.change(k, part.x), low);
    if (open(half)) halves.push_back(std::move(half));
  }
  return halves;
}

/// Divides a part where its bound falls furthest short, by the amount or by the change, whichever
/// raises the bound more.
std::vector<Box> Divider::divided(const Box& part) {
  std::size_t worst = program_.amounts();
  double most = 0;
  for (std::size_t k = 0; k < program_.amounts(); ++k) {
    const double missing = program_.true_change(k, part.x) - program_.change(k, part.x);
    if (missing <= most) continue;
    most = missing;
    worst = k;
  }
  if (worst == program_.amounts()) {  // within rounding of the best, but no nearer
    proved_ = false;
    return {};
  }
  auto by_amount = halves(part, worst, true);
  auto by_change = halves(part, worst, false);
  return least_bound(by_change) > least_bound(by_amount) ? by_change : by_amount;
}

/// Whether every blend with less (`up`) or more (`down`) than so much product needs no smaller
/// change.
bool Divider::excluded(ChangeBox box, double product, Scaled scaled) {
  auto& range = box[*program_.product()];
  (scaled == Scaled::up ? range.to : range.from) = product;
  Box outside{box};
  if (!open(outside)) return true;
  range.from = range.to = product;
  for (auto& other : box) other.to = std::min(other.to, product);
  Box border{std::move(box)};
  return !open(border, scaled);
}

/// How little or how much product the blends of a smaller change may have. Where that has no end,
/// such blends are looked for near the best one, and nothing is proved.
double Divider::end_of_product(const ChangeBox& box, Scaled scaled) {
  const double amount = program_.amount(*program_.product(), best_);
  const double factor = scaled == Scaled::up ? 1 / step_factor : step_factor;
  const double nearest = (amount > 0 ? amount : 1) * factor;
  double end = nearest;
  for (int step = 0; step < most_steps; ++step, end *= factor)
    if (excluded(box, end, scaled)) return end;
  proved_ = false;
  return nearest;
}

ChangeBox Divider::first_box() {
  ChangeBox box(program_.amounts());
  double most = elastic_.total_amount();
  if (const auto product = program_.product()) {
    box[*product].to = most = end_of_product(box, Scaled::down);
    box[*product].from = end_of_product(box, Scaled::up);
  }
  for (auto& range : box) range.to = std::min(range.to, most);  // each is a part of the product
  return box;
}

LeastChange Divider::search() {
  std::vector<Box> parts(1);
  parts[0].box = first_box();
  if (!open(parts[0])) parts.clear();
  while (!parts.empty() && goes_on()) {
    std::ranges::pop_heap(parts, needs_more);
    const Box part = std::move(parts.back());
    parts.pop_back();
    if (!is_settled(part)) look_at(part);
    if (is_settled(part)) continue;
    for (auto& half : divided(part)) {
      parts.push_back(std::move(half));
      std::ranges::push_heap(parts, needs_more);
    }
  }
  return {best_, proved_ && parts.empty()};
}

}  // namespace

LeastChange least_change(const Model& elastic, const std::vector<Surplus>& surplus,
                         std::vector<double> x, const solver::SearchOptions& options) {
  return Divider(elastic, surplus, std::move(x), options).search();
}

}  // namespace leastwise::solve
