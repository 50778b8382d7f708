#pragma once
#include <span>
#include <vector>

#include "model/model.hpp"

namespace leastwise::model {

/// Where one block stands in a joined model: its first row, column, rule and so on.
struct Block {
  int row = 0;
  int column = 0;
  std::size_t rule = 0;
  std::size_t minimum = 0;
  std::size_t apart = 0;
  std::size_t bins = 0;  ///< into `model.joined_bins`, where the block limits its bins
};

/// Several models side by side, and rows between them.
struct Joined {
  Model model{};
  std::vector<Block> blocks{};           ///< in the order of the models
  std::size_t first_link = 0;            ///< into `model.rules`: the links begin here
  std::size_t first_shared = 0;          ///< into `model.rules`: the shared limits begin here
  std::vector<std::size_t> shared_of{};  ///< of each rule from there on: which shared limit it is
};

/// A row between blocks: in each member `sum of its entries = common amount`.
struct Link {
  struct Term {
    std::size_t block = 0;
    std::vector<Entry> entries{};  ///< by column of the block
  };
  /// One block, or several whose amounts are added up.
  struct Member {
    std::vector<Term> terms{};
  };
  std::vector<Member> members{};
};

/// A row over blocks: limits on the sum of what stands in it.
struct Shared {
  std::vector<Link::Term> terms{};
  Limits limits{};
};

/// The models side by side: every rule of each holds for its own columns, and the cost is the
/// weighted sum. Each link has a column of its own, the common amount, and one row and one rule
/// (an equality of kind `rate`, limit 0) for each member, so that a conflict can name them.
/// `material_of` of a joined column is the index in its own block's scenario. Each shared row has a
/// rule of kind `stock` for each of its sides, one for both where they are equal.
[[nodiscard]] Joined join(std::span<const Model> models, std::span<const double> weights,
                          std::span<const Link> links, std::span<const Shared> shared = {});

}  // namespace leastwise::model
