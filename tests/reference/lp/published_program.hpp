#pragma once
#include <leastwise/scenario.hpp>

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace leastwise::support {

/// A linear program as it was published, with its recomputed optimum.
struct PublishedProgram {
  struct Column {
    std::string name{};
    double cost = 0, lower = 0, optimum = 0, reduced_cost = 0;
    std::optional<double> upper{};
  };
  struct Row {
    std::string name{}, relation{};
    double limit = 0, activity = 0, dual = 0;
    std::map<std::string, double> coefficient{};
  };

  std::string name{}, source{}, published{};
  bool minimise = true, x_unique = false, dual_unique = false;
  double objective = 0;
  std::vector<Column> columns{};
  std::vector<Row> rows{};
};

/// All programs of tests/reference/data/lp_*.csv.
[[nodiscard]] std::vector<PublishedProgram> published_programs();
[[nodiscard]] PublishedProgram published_program(const std::string& name);

/// A published program recast as a scenario.
///
/// Each column is a granule, `kg_per_unit` kg of it for one unit of the column. Each row is a
/// property of the granules and a rate on it; a row of ones is the total. Bounds of a column are a
/// rate on a property that only this granule has. Contents are percentages, so each row is
/// measured in its own unit: `unit_of_row` of it to one unit of the published row.
struct Recast {
  ScenarioDraft draft{};
  double kg_per_unit = 1;
  std::map<std::string, double> unit_of_row{};
  std::map<std::string, std::string> rule_of_row{};
};

/// Returns: nothing for a program of another form (maximised, or with negative coefficients).
[[nodiscard]] std::optional<Recast> recast(const PublishedProgram& program);

}  // namespace leastwise::support
