#include "model/join.hpp"

#include <utility>

namespace leastwise::model {
namespace {

template <class T>
void append(std::vector<T>& to, const std::vector<T>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

int shifted(int index, int by) { return index < 0 ? index : index + by; }

/// Puts models and links into one.
class Joiner {
 public:
  void add(const Model& block, double weight) {
    const Block at{model_.rows,          model_.columns,      model_.rules.size(),
                   model_.minima.size(), model_.apart.size(), model_.joined_bins.size()};
    const auto first_family = static_cast<int>(model_.families.size());
    add_columns(block, weight, first_family);
    if (block.bins)
      model_.joined_bins.push_back(
          {*block.bins, first_family, static_cast<int>(model_.families.size())});
    add_rows(block, at.column);
    for (Rule rule : block.rules) {
      rule.row = shifted(rule.row, at.row);
      rule.column = shifted(rule.column, at.column);
      for (auto& entry : rule.coefficient_derivatives) entry.column += at.column;
      rule.paired_rule = shifted(rule.paired_rule, static_cast<int>(at.rule));
      model_.rules.push_back(std::move(rule));
    }
    for (auto minimum : block.minima) {
      minimum.column += at.column;
      minimum.row = shifted(minimum.row, at.row);
      minimum.total_column = shifted(minimum.total_column, at.column);
      model_.minima.push_back(minimum);
    }
    for (const auto& limit : block.column_limits)
      model_.column_limits.push_back({limit.column + at.column, limit.most});
    if (block.total_row >= 0)
      model_.fixed_rows.push_back({block.total_row + at.row, block.total_amount()});
    for (const auto& fixed : block.fixed_rows)
      model_.fixed_rows.push_back({fixed.row + at.row, fixed.value});
    joined_.blocks.push_back(at);
  }

  void add(const Link& link) {
    const int common = model_.columns++;
    model_.material_of.push_back(-1);
    model_.is_granule.push_back(0);
    model_.family_of.push_back(-1);
    model_.cost.push_back(0);
    for (const auto& member : link.members) {
      add(member.terms);
      model_.entries.push_back({common, -1});
      close_row();
      model_.rules.push_back(
          {RuleKind::rate, RuleSide::exactly, 0, 0, model_.rows - 1, -1, 1, {}, true});
    }
  }

  void add(const Shared& shared, std::size_t number) {
    add(shared.terms);
    close_row();
    const auto side = [&](RuleSide which, double limit) {
      model_.rules.push_back(
          {RuleKind::stock, which, number, limit, model_.rows - 1, -1, 1, {}, true});
      joined_.shared_of.push_back(number);
    };
    if (shared.limits.exact()) return side(RuleSide::exactly, shared.limits.min);
    if (shared.limits.has_min()) side(RuleSide::min, shared.limits.min);
    if (shared.limits.has_max()) side(RuleSide::max, shared.limits.max);
  }

  /// Puts entries of blocks into the row that is being written.
  void add(std::span<const Link::Term> terms) {
    for (const auto& term : terms)
      for (const auto& entry : term.entries)
        model_.entries.push_back({entry.column + joined_.blocks[term.block].column, entry.value});
  }

  Joined take(std::size_t first_link, std::size_t first_shared) {
    model_.column_lower.assign(static_cast<std::size_t>(model_.columns), 0);
    model_.column_upper.assign(static_cast<std::size_t>(model_.columns), infinity);
    model_.row_lower.assign(static_cast<std::size_t>(model_.rows), -infinity);
    model_.row_upper.assign(static_cast<std::size_t>(model_.rows), infinity);
    refresh_bounds(model_);
    joined_.first_link = first_link;
    joined_.first_shared = first_shared;
    joined_.model = std::move(model_);
    return std::move(joined_);
  }

  [[nodiscard]] std::size_t rules() const { return model_.rules.size(); }

 private:
  void add_columns(const Model& block, double weight, int first_family) {
    const int first_column = model_.columns;
    model_.columns += block.columns;
    append(model_.material_of, block.material_of);
    append(model_.is_granule, block.is_granule);
    for (const double cost : block.cost) model_.cost.push_back(cost * weight);
    for (const int family : block.family_of)
      model_.family_of.push_back(shifted(family, first_family));
    for (auto family : block.families) {
      for (int& column : family) column += first_column;
      model_.families.push_back(std::move(family));
    }
    for (auto apart : block.apart) {
      apart.family_a += first_family;
      apart.family_b += first_family;
      model_.apart.push_back(apart);
    }
  }

  void add_rows(const Model& block, int first_column) {
    for (int r = 0; r < block.rows; ++r) {
      const auto row = static_cast<std::size_t>(r);
      for (int e = block.row_start[row]; e < block.row_start[row + 1]; ++e) {
        const Entry& entry = block.entries[static_cast<std::size_t>(e)];
        model_.entries.push_back({entry.column + first_column, entry.value});
      }
      close_row();
    }
  }

  void close_row() {
    model_.row_start.push_back(static_cast<int>(model_.entries.size()));
    ++model_.rows;
  }

  Model model_{};
  Joined joined_{};
};

}  // namespace

Joined join(std::span<const Model> models, std::span<const double> weights,
            std::span<const Link> links, std::span<const Shared> shared) {
  Joiner joiner;
  for (std::size_t b = 0; b < models.size(); ++b) joiner.add(models[b], weights[b]);
  const std::size_t first_link = joiner.rules();
  for (const auto& link : links) joiner.add(link);
  const std::size_t first_shared = joiner.rules();
  for (std::size_t s = 0; s < shared.size(); ++s) joiner.add(shared[s], s);
  return joiner.take(first_link, first_shared);
}

}  // namespace leastwise::model
