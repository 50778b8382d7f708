#pragma once
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "support/reading.hpp"

namespace leastwise::support {

/// A row of a mixed-integer program: `lower <= sum value * column <= upper`.
struct Row {
  std::vector<std::pair<int, double>> entries{};
  double lower = 0;
  double upper = 0;
};

struct Column {
  double lower = 0;
  double upper = 0;
  double cost = 0;
  bool binary = false;
};

/// A scenario as a general solver wants it: amounts first, then one binary per switch.
struct MixedInteger {
  std::vector<Column> columns{};
  std::vector<Row> rows{};
  std::size_t amounts = 0;  ///< the first so many columns are the materials
  double total_cap = 0;     ///< product per hectare or per tonne assumed at most
};

/// Writes `reading` with binaries and big-M rows: one binary per family that takes part in an
/// exclusion, and one per material where a minimum-if-used or the bin count needs it.
///
/// Every M is the tightest bound on that amount that single rules imply under `total_cap`.
[[nodiscard]] MixedInteger mixed_integer(const Reading& reading, double total_cap);

/// The same without any either-or rule: what a bare LP solver is asked.
[[nodiscard]] MixedInteger relaxation(const Reading& reading);

enum class PeerStatus { optimal, infeasible, unfinished };

/// What a general solver says. `amounts` and `cost` come from the tight LP that follows the
/// search, with the binaries fixed where the search put them.
struct PeerAnswer {
  PeerStatus status = PeerStatus::unfinished;
  double cost = 0;
  double searched_cost = 0;  ///< what the search itself reported, with its own tolerances
  std::vector<double> amounts{};
  bool proven_cap = true;  ///< false: the total might have to exceed the cap
};

enum class Peer { cbc, glpk };

/// Seconds a single search may take; `unfinished` after that.
struct PeerOptions {
  double seconds = 60;
  bool refine = true;  ///< false: only the search, for timing
  /// The plain search: GLPK without its presolver, from the dual simplex at the root; CBC without
  /// cuts and heuristics. Often faster on programs of this size.
  bool plain = false;
};

[[nodiscard]] PeerAnswer solve_with_cbc(const MixedInteger& program, const PeerOptions& options);
[[nodiscard]] PeerAnswer solve_with_glpk(const MixedInteger& program, const PeerOptions& options);

/// Solves a scenario; where nothing bounds the total, the cap is raised until the cost proves it
/// harmless.
[[nodiscard]] PeerAnswer solve_with_peer(const Reading& reading, Peer peer,
                                         const PeerOptions& options = {});

/// The cheapest amounts that use only the materials of `used` (all rules that are rows kept, with
/// minimum-if-used applied to every used material), by an LP at tight tolerances.
[[nodiscard]] PeerAnswer cheapest_with(const Reading& reading, const std::vector<char>& used);

/// Product amount that the rules themselves bound, if they do.
[[nodiscard]] std::optional<double> bounded_total(const Reading& reading);

}  // namespace leastwise::support
