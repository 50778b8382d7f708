#include "trial/designs.hpp"

#include <algorithm>
#include <numeric>

#include "trial/alpha_design.hpp"
#include "trial/applications.hpp"
#include "trial/field.hpp"
#include "trial/latin_square.hpp"
#include "trial/random_order.hpp"

namespace leastwise {
namespace trial {
namespace {

/// Puts items in random order where the trial has a seed. Each replicate of each site has a stream
/// of its own; number 0 is for what replicates share.
class Shuffle {
 public:
  Shuffle(const Trial& trial, std::size_t site, std::size_t replicate)
      : random_(trial.seed().value_or(0), site, replicate), on_(trial.seed().has_value()) {}

  template <typename T>
  void operator()(std::vector<T>& items) {
    if (on_) random_.shuffle(items);
  }
  [[nodiscard]] bool on() const { return on_; }
  RandomOrder& random() { return random_; }

 private:
  RandomOrder random_;
  bool on_;
};

bool stands_in(const Treatment& treatment, int replicate) {
  return !treatment.replicates || replicate <= *treatment.replicates;
}

/// Every treatment of a replicate, from 1, as often as it stands there; all once, then all again.
std::vector<std::size_t> treatments_of_replicate(const Trial& trial, const Site& site,
                                                 int replicate) {
  std::vector<std::size_t> order;
  for (int round = 0; round < site.plots_per_treatment; ++round) {
    for (const std::size_t t : on_plots(trial)) {
      const Treatment& treatment = trial.treatments()[t];
      if (!stands_in(treatment, replicate)) continue;
      order.insert(order.end(), static_cast<std::size_t>(treatment.repeat), t);
    }
  }
  return order;
}

std::vector<Seat> complete_block(const Trial& trial, std::size_t s, int replicate) {
  auto order = treatments_of_replicate(trial, trial.sites()[s], replicate);
  Shuffle(trial, s, static_cast<std::size_t>(replicate))(order);
  std::vector<Seat> seats;
  for (const std::size_t t : order) seats.push_back({t, 0, static_cast<int>(seats.size())});
  return seats;
}

/// The treatments of each whole plot, in the order of the file.
std::vector<std::vector<std::size_t>> whole_plots_of(const Trial& trial) {
  std::vector<std::string> names;
  std::vector<std::vector<std::size_t>> plots;
  for (const std::size_t t : on_plots(trial)) {
    const std::string& name = trial.treatments()[t].whole_plot;
    const auto known = std::find(names.begin(), names.end(), name);
    if (known == names.end()) {
      names.push_back(name);
      plots.push_back({t});
    } else {
      plots[static_cast<std::size_t>(known - names.begin())].push_back(t);
    }
  }
  return plots;
}

/// Blocks of up to `size` plots, each in places of its own.
std::vector<Seat> in_blocks(const std::vector<std::vector<std::size_t>>& blocks, std::size_t size) {
  std::vector<Seat> seats;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    for (std::size_t i = 0; i < blocks[b].size(); ++i) {
      seats.push_back({blocks[b][i], static_cast<int>(b) + 1, static_cast<int>(b * size + i)});
    }
  }
  return seats;
}

std::vector<Seat> split_replicate(const Trial& trial, std::size_t s, int replicate) {
  auto blocks = whole_plots_of(trial);
  Shuffle shuffle(trial, s, static_cast<std::size_t>(replicate));
  shuffle(blocks);
  for (auto& block : blocks) shuffle(block);
  return in_blocks(blocks, blocks.front().size());
}

std::vector<std::vector<Seat>> incomplete_replicates(const Trial& trial, std::size_t s) {
  const Site& site = trial.sites()[s];
  std::vector<std::size_t> treatment = on_plots(trial);
  const std::size_t count = treatment.size();
  const auto size = static_cast<std::size_t>(site.block_size.value_or(1));
  auto design = alpha_design(count, size, static_cast<std::size_t>(site.replicates));
  Shuffle shared(trial, s, 0);
  shared(treatment);
  shared(design);
  std::vector<std::vector<Seat>> replicates;
  for (auto& blocks : design) {
    Shuffle shuffle(trial, s, replicates.size() + 1);
    shuffle(blocks);
    for (auto& block : blocks) {
      for (auto& label : block) label = treatment[label];
      shuffle(block);
    }
    replicates.push_back(in_blocks(blocks, size));
  }
  return replicates;
}

/// The square lies in the rows and columns of the field, however its plots are numbered.
std::vector<std::vector<Seat>> square_rows(const Trial& trial, std::size_t s) {
  const Site& site = trial.sites()[s];
  const std::vector<std::size_t> treatment = on_plots(trial);
  const std::size_t size = treatment.size();
  Shuffle shuffle(trial, s, 0);
  const LatinSquare square =
      shuffle.on() ? random_latin_square(size, shuffle.random()) : cyclic_square(size);
  std::vector<std::vector<Seat>> rows(size);
  for (std::size_t row = 0; row < size; ++row) {
    for (std::size_t i = 0; i < size; ++i) {
      const GridPlace place =
          place_of(site.field, static_cast<int>(size), static_cast<int>(row), static_cast<int>(i));
      rows[row].push_back({treatment[square[row][static_cast<std::size_t>(place.column) - 1]], 0,
                           static_cast<int>(i)});
    }
  }
  return rows;
}

}  // namespace

std::vector<std::vector<Seat>> seats_of(const Trial& trial, std::size_t s) {
  const Site& site = trial.sites()[s];
  if (site.design == Design::latin_square) return square_rows(trial, s);
  if (site.design == Design::incomplete_blocks) return incomplete_replicates(trial, s);
  std::vector<std::vector<Seat>> replicates;
  for (int replicate = 1; replicate <= site.replicates; ++replicate) {
    replicates.push_back(site.design == Design::split_plot ? split_replicate(trial, s, replicate)
                                                           : complete_block(trial, s, replicate));
  }
  return replicates;
}

int slots_in_replicate(const Trial& trial, const Site& site) {
  if (site.design == Design::incomplete_blocks && site.block_size.value_or(0) > 0) {
    const int count = static_cast<int>(on_plots(trial).size());
    return (count + *site.block_size - 1) / *site.block_size * *site.block_size;
  }
  constexpr double beyond_any_field = 1e9;
  double plots = 0;
  for (const std::size_t t : on_plots(trial)) plots += trial.treatments()[t].repeat;
  return static_cast<int>(std::min(beyond_any_field, plots * site.plots_per_treatment));
}

}  // namespace trial

std::string_view to_string(Design design) {
  switch (design) {
    case Design::complete_blocks:
      return "complete-blocks";
    case Design::latin_square:
      return "latin-square";
    case Design::split_plot:
      return "split-plot";
    case Design::incomplete_blocks:
      break;
  }
  return "incomplete-blocks";
}

}  // namespace leastwise
