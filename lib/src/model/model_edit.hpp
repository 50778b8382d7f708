#pragma once
#include <vector>

#include "model/model.hpp"

namespace leastwise::model {

/// A model opened to take further rows and columns; it is whole again when this one goes.
class ModelEdit {
 public:
  /// `model` must outlive it and is not to be used meanwhile, but for costs and bounds.
  explicit ModelEdit(Model& model);
  ~ModelEdit();
  ModelEdit(const ModelEdit&) = delete;
  ModelEdit& operator=(const ModelEdit&) = delete;

  /// A column that stands for no material, from 0 up. Returns: its index.
  int add_column(double cost, double upper = infinity);
  /// Returns: its index.
  int add_row(std::vector<Entry> row, double lower, double upper);
  /// The entries of a row, to be added to or changed; no column twice.
  [[nodiscard]] std::vector<Entry>& row(int i) { return rows_[static_cast<std::size_t>(i)]; }

 private:
  Model& model_;
  std::vector<std::vector<Entry>> rows_{};
};

}  // namespace leastwise::model
