#include "reference/blends/worked_example.hpp"

#include "support/csv.hpp"

namespace leastwise::support {
namespace {

/// Contents of one cell: `46`, or `8.8 P` where the source states the element.
void add_content(std::vector<Content>& contents, const std::string& name, const std::string& cell) {
  const double percent = std::stod(cell);
  if (percent == 0) return;
  const auto blank = cell.find(' ');
  contents.push_back({blank == std::string::npos ? name : cell.substr(blank + 1), percent});
}

}  // namespace

double WorkedExample::target(const std::string& quantity) const {
  for (const Target& target : targets)
    if (target.quantity == quantity) return std::stod(target.value);
  return 0;
}

std::map<std::string, WorkedExample> worked_examples() {
  std::map<std::string, WorkedExample> examples;
  for (const CsvLine& line : read_reference("worked_examples.csv")) {
    WorkedExample& example = examples[line.at("id")];
    example.id = line.at("id");
    example.title = line.at("title");
    example.source = line.at("source");
  }
  for (const CsvLine& line : read_reference("worked_example_ingredients.csv")) {
    WorkedExample::Ingredient ingredient;
    ingredient.name = line.at("ingredient");
    add_content(ingredient.contains_percent, "N", line.at("N_pct"));
    add_content(ingredient.contains_percent, "P2O5", line.at("P2O5_pct"));
    add_content(ingredient.contains_percent, "K2O", line.at("K2O_pct"));
    ingredient.published_amount = line.at("published_amount");
    ingredient.exact_amount = line.at("exact_amount");
    examples.at(line.at("id")).ingredients.push_back(ingredient);
  }
  for (const CsvLine& line : read_reference("worked_example_targets.csv"))
    examples.at(line.at("id"))
        .targets.push_back({line.at("quantity"), line.at("relation"), line.at("value")});
  return examples;
}

namespace {

/// Each source mixes what it mixes: a family of its own, but where beside a nitrate, or a doubt of
/// one, it must be said what a thing is.
std::string family_of(const std::string& ingredient) {
  if (ingredient == "nitrate of soda") return "sodium-nitrate";
  if (ingredient == "phosphate 17 %" || ingredient == "acid phosphate")
    return "single-superphosphate";
  if (ingredient.starts_with("muriate")) return "potassium-chloride";
  if (ingredient == "21-0-0") return "ammonium-sulfate";
  return "lone " + ingredient;
}

bool is_superphosphate(const std::string& ingredient) {
  return ingredient == "SSP" || ingredient.find("superphosphate") != std::string::npos;
}

}  // namespace

ScenarioDraft draft_of(const WorkedExample& example) {
  ScenarioDraft draft;
  draft.title = example.title;
  draft.currency = "USD";
  for (const auto& ingredient : example.ingredients) {
    MaterialDraft material;
    material.name = ingredient.name;
    material.family = family_of(ingredient.name);
    material.form = Form::granule;
    material.contains_percent = ingredient.contains_percent;
    material.contains_percent->push_back({"amount of " + ingredient.name, 100});
    material.price_per_t = 100.0;
    draft.materials.push_back(material);
  }
  // Printed side by side, not as one pile: urea and superphosphate are not to lie mixed.
  for (const auto& first : example.ingredients)
    for (const auto& second : example.ingredients)
      if (first.name == "urea" && is_superphosphate(second.name))
        draft.compatible.emplace_back(first.name, second.name);
  return draft;
}

}  // namespace leastwise::support
