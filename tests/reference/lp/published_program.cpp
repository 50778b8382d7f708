#include "reference/lp/published_program.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "support/csv.hpp"

namespace leastwise::support {
namespace {

double number(const std::string& text) { return std::stod(text); }

std::string word_for(const std::string& relation) {
  return relation == "=" ? " exactly" : relation == ">=" ? " min" : " max";
}

Limits limits_for(const std::string& relation, double limit) {
  if (relation == "=") return {limit, limit};
  return relation == ">=" ? Limits{.min = limit} : Limits{.max = limit};
}

bool is_total(const PublishedProgram& program, const PublishedProgram::Row& row) {
  return row.coefficient.size() == program.columns.size() &&
         std::all_of(row.coefficient.begin(), row.coefficient.end(),
                     [](const auto& entry) { return entry.second == 1; });
}

bool fits(const PublishedProgram& program) {
  if (!program.minimise) return false;
  for (const auto& row : program.rows)
    for (const auto& [column, coefficient] : row.coefficient)
      if (coefficient < 0) return false;
  return std::all_of(program.columns.begin(), program.columns.end(),
                     [](const auto& column) { return column.cost >= 0; });
}

/// A power of ten that brings the optimum to about a hundred kilograms.
double kg_per_unit(const PublishedProgram& program) {
  double total = 0;
  for (const auto& column : program.columns) total += column.optimum;
  return std::pow(10.0, std::round(std::log10(100 / total)));
}

class Recasting {
 public:
  explicit Recasting(const PublishedProgram& program) : program_(program) {
    result_.kg_per_unit = kg_per_unit(program);
    result_.draft.title = program.name;
    result_.draft.currency = "USD";
  }

  Recast result() {
    for (const auto& column : program_.columns) add_material(column);
    for (const auto& row : program_.rows) {
      if (is_total(program_, row) && !result_.draft.total_kg_per_ha)
        add_total(row);
      else
        add_rate(row);
    }
    for (std::size_t i = 0; i < program_.columns.size(); ++i) add_bounds(i);
    if (result_.draft.rates_kg_per_ha.empty()) throw std::logic_error("no rate to recast");
    return std::move(result_);
  }

 private:
  void add_material(const PublishedProgram::Column& column) {
    MaterialDraft material;
    material.name = "good " + column.name;
    material.form = Form::granule;
    material.price_per_t = column.cost * 1000 / result_.kg_per_unit;
    material.contains_percent = std::vector<Content>{};
    result_.draft.materials.push_back(material);
  }

  void add_total(const PublishedProgram::Row& row) {
    result_.draft.total_kg_per_ha = limits_for(row.relation, row.limit * result_.kg_per_unit);
    result_.unit_of_row[row.name] = result_.kg_per_unit;
    result_.rule_of_row[row.name] = "total" + word_for(row.relation);
  }

  void add_rate(const PublishedProgram::Row& row) {
    double largest = 0;
    for (const auto& entry : row.coefficient) largest = std::max(largest, entry.second);
    const double unit = result_.kg_per_unit / largest;
    const std::string property = "property " + row.name;
    for (std::size_t i = 0; i < program_.columns.size(); ++i) {
      const auto entry = row.coefficient.find(program_.columns[i].name);
      if (entry == row.coefficient.end() || entry->second == 0) continue;
      result_.draft.materials[i].contains_percent->push_back(
          {property, 100 * (entry->second / largest)});
    }
    result_.draft.rates_kg_per_ha.push_back({property, limits_for(row.relation, row.limit * unit)});
    result_.unit_of_row[row.name] = unit;
    result_.rule_of_row[row.name] = "rate " + property + word_for(row.relation);
  }

  void add_bounds(std::size_t i) {
    const auto& column = program_.columns[i];
    if (column.lower == 0 && !column.upper) return;
    const std::string property = "amount of " + column.name;
    result_.draft.materials[i].contains_percent->push_back({property, 100});
    Limits limits;
    if (column.lower > 0) limits.min = column.lower * result_.kg_per_unit;
    if (column.upper) limits.max = *column.upper * result_.kg_per_unit;
    result_.draft.rates_kg_per_ha.push_back({property, limits});
  }

  const PublishedProgram& program_;
  Recast result_;
};

}  // namespace

std::vector<PublishedProgram> published_programs() {
  std::vector<PublishedProgram> programs;
  std::map<std::string, std::size_t> place;
  for (const CsvLine& line : read_reference("lp_index.csv")) {
    PublishedProgram program;
    program.name = line.at("problem");
    program.source = line.at("data_source");
    program.published = line.at("published_answer");
    program.minimise = line.at("sense") == "min";
    program.x_unique = line.at("x_unique") == "yes";
    program.dual_unique = line.at("dual_unique") == "yes";
    program.objective = number(line.at("computed_objective"));
    place[program.name] = programs.size();
    programs.push_back(program);
  }
  for (const CsvLine& line : read_reference("lp_columns.csv")) {
    PublishedProgram::Column column{
        line.at("column"),        number(line.at("cost")),         number(line.at("lower")),
        number(line.at("x_opt")), number(line.at("reduced_cost")), {}};
    if (!line.at("upper").empty()) column.upper = number(line.at("upper"));
    programs[place.at(line.at("problem"))].columns.push_back(column);
  }
  for (const CsvLine& line : read_reference("lp_rows.csv"))
    programs[place.at(line.at("problem"))].rows.push_back({line.at("row"),
                                                           line.at("type"),
                                                           number(line.at("rhs")),
                                                           number(line.at("activity_opt")),
                                                           number(line.at("dual")),
                                                           {}});
  for (const CsvLine& line : read_reference("lp_matrix.csv"))
    for (auto& row : programs[place.at(line.at("problem"))].rows)
      if (row.name == line.at("row"))
        row.coefficient[line.at("column")] = number(line.at("coefficient"));
  return programs;
}

PublishedProgram published_program(const std::string& name) {
  for (PublishedProgram& program : published_programs())
    if (program.name == name) return program;
  throw std::out_of_range("no published program " + name);
}

std::optional<Recast> recast(const PublishedProgram& program) {
  if (!fits(program)) return {};
  return Recasting(program).result();
}

}  // namespace leastwise::support
