#include "analysis/alternatives/alternatives_tree.hpp"

#include <algorithm>

namespace leastwise::analysis {
namespace {

solver::BoundChange out(int column) { return {column, 0, 0}; }

bool is_in(const solver::TreeNode& node, int column) {
  return std::find(node.in.begin(), node.in.end(), column) != node.in.end();
}

/// Leaves out every granule that is not demanded once the demanded ones fill all bins.
bool close_bins(const model::Model& model, solver::TreeNode& node) {
  if (!model.bins) return true;
  const auto granule = [&](int j) { return model.is_granule[static_cast<std::size_t>(j)] != 0; };
  const auto held = std::count_if(node.in.begin(), node.in.end(), granule);
  if (held > *model.bins) return false;
  if (held < *model.bins) return true;
  for (int j = 0; j < static_cast<int>(model.material_of.size()); ++j)
    if (granule(j) && !is_in(node, j)) node.changes.push_back(out(j));
  return true;
}

}  // namespace

std::vector<int> support_of(const model::Model& model, const std::vector<double>& x) {
  std::vector<int> used;
  for (std::size_t j = 0; j < model.material_of.size(); ++j)
    if (model.material_of[j] >= 0 && x[j] > 0) used.push_back(static_cast<int>(j));
  std::stable_sort(used.begin(), used.end(), [&](int a, int b) {
    return x[static_cast<std::size_t>(a)] > x[static_cast<std::size_t>(b)];
  });
  return used;
}

solver::TreeNode without(const solver::TreeNode& parent, int column) {
  solver::TreeNode node = parent;
  node.changes.push_back(out(column));
  return node;
}

std::optional<solver::TreeNode> demanding(const model::Model& model, const solver::TreeNode& parent,
                                          int column) {
  solver::TreeNode node = parent;
  if (is_in(node, column)) return node;
  node.in.push_back(column);
  const int family = model.family_of[static_cast<std::size_t>(column)];
  for (const auto& apart : model.apart) {
    if (!apart.active || (apart.family_a != family && apart.family_b != family)) continue;
    const int other = apart.family_a == family ? apart.family_b : apart.family_a;
    for (const int j : model.families[static_cast<std::size_t>(other)]) {
      if (is_in(node, j)) return std::nullopt;
      node.changes.push_back(out(j));
    }
  }
  for (const auto& minimum : model.minima)
    if (minimum.active && minimum.column == column)
      node.path.push_back({solver::Decision::Kind::column_on, column});
  if (!close_bins(model, node)) return std::nullopt;
  return node;
}

}  // namespace leastwise::analysis
