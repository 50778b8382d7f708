#include "model/model_edit.hpp"

#include <utility>

namespace leastwise::model {

ModelEdit::ModelEdit(Model& model) : model_(model) {
  rows_.reserve(static_cast<std::size_t>(model.rows));
  for (std::size_t i = 0; i < static_cast<std::size_t>(model.rows); ++i)
    rows_.emplace_back(model.entries.begin() + model.row_start[i],
                       model.entries.begin() + model.row_start[i + 1]);
}

ModelEdit::~ModelEdit() {
  model_.entries.clear();
  model_.row_start.assign(1, 0);
  for (const auto& row : rows_) {
    model_.entries.insert(model_.entries.end(), row.begin(), row.end());
    model_.row_start.push_back(static_cast<int>(model_.entries.size()));
  }
}

int ModelEdit::add_column(double cost, double upper) {
  model_.material_of.push_back(-1);
  model_.is_granule.push_back(0);
  model_.family_of.push_back(-1);
  model_.column_lower.push_back(0);
  model_.column_upper.push_back(upper);
  model_.cost.push_back(cost);
  return model_.columns++;
}

int ModelEdit::add_row(std::vector<Entry> row, double lower, double upper) {
  rows_.push_back(std::move(row));
  model_.row_lower.push_back(lower);
  model_.row_upper.push_back(upper);
  return model_.rows++;
}

}  // namespace leastwise::model
