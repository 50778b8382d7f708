#pragma once
#include <leastwise/load.hpp>
#include <leastwise/trial.hpp>
#include <leastwise/trial_factorial.hpp>

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/yaml/inline_scenario.hpp"
#include "input/yaml/node_reader.hpp"
#include "input/yaml/scenario_nodes.hpp"

namespace leastwise {

/// One treatment as its keys state it, before its scenario is put together.
struct TreatmentText {
  std::string name{};
  std::string path{};
  SourceSpan spot{};
  std::string code{};
  bool nothing = false;
  const Node* scenario = nullptr;  ///< a path, or a scenario inline
  const Node* recipe = nullptr;
  const Node* rates = nullptr;
  const Node* grades = nullptr;
  const Node* total = nullptr;
  const Node* use = nullptr;
  const Node* product = nullptr;
  std::optional<double> product_kg_per_ha{};
  int repeat = 1;
  std::optional<int> replicates{};
  std::string whole_plot{};
  std::vector<SplitShares> splits{};
  std::vector<std::string> without{};
  std::vector<std::pair<std::string, std::string>> only_source_of{};
  std::vector<std::pair<std::string, SourceForm>> form_of{};
  const FactorialCell* cell = nullptr;     ///< of a factorial: sets the rates
  std::vector<const Node*> cell_levels{};  ///< where each rate of the cell stands
  /// Of a factorial: each factor, and its level as the name of the treatment has it.
  std::vector<std::pair<std::string, std::string>> levels{};
};

/// What a trial file says: a draft, and the treatments that are still to be put together.
struct TrialText {
  TrialDraft& draft;
  const Node* base = nullptr;
  const Node* whole_plot_factor = nullptr;  ///< names a factor of the factorial
  std::vector<TreatmentText> treatments{};
  std::vector<FactorialCell> cells{};
};

/// Reads the root of a trial file. The nodes must outlive `trial`.
void read_trial(NodeReader& reader, const Node& root, TrialText& trial);

/// Reads the keys of one treatment, or of one level of a factor, into `text`.
void read_treatment(NodeReader& reader, const Node& node, const std::string& path,
                    TreatmentText& text);

/// Reads `applications` and `split_percent`.
void read_applications(NodeReader& reader, const Node& node, const std::string& path,
                       TrialDraft& draft);
[[nodiscard]] std::vector<SplitShares> read_splits(NodeReader& reader, const Node& node,
                                                   const std::string& path);

/// Reads `treatments` and `factorial`, and finds the whole plots of the latter.
void read_treatments(NodeReader& reader, const Node& node, const std::string& path,
                     TrialText& trial);
void read_factorial(NodeReader& reader, const Node& node, const std::string& path,
                    TrialText& trial);
void find_whole_plots(NodeReader& reader, TrialText& trial);

/// Reads `sites`, `labels`, `equipment`, `bags_kg`.
void read_sites(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft);
void read_labels(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft);
void read_equipment(NodeReader& reader, const Node& node, const std::string& path,
                    TrialDraft& draft);
void read_bags(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft);

/// Reads `hold` and `stock_kg`.
void read_hold(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft);
void read_stock(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft);

/// Reads `solutions`: a word, or how they are made.
void read_solutions(NodeReader& reader, const Node& node, const std::string& path,
                    TrialDraft& draft);

/// Puts the scenario of each treatment together and adds the treatments to the draft. What is
/// wrong is reported into `reading`, each finding once though many treatments share it.
class TreatmentScenarios {
 public:
  TreatmentScenarios(NodeReader& reader, TrialText& trial, Reading& reading,
                     std::filesystem::path folder, LoadOptions options);
  void build();

 private:
  [[nodiscard]] const ReadScenario* base();
  void build(const TreatmentText& text);
  [[nodiscard]] std::optional<ReadScenario> start_of(const TreatmentText& text);
  void apply(const TreatmentText& text, ReadScenario& scenario);
  void apply_recipe(const TreatmentText& text, ReadScenario& scenario, TreatmentDraft& treatment);
  void resolve(const TreatmentText& text, ReadScenario scenario, TreatmentDraft& treatment);
  void check_kind(const TreatmentText& text);

  NodeReader& reader_;
  TrialText& trial_;
  ScenarioNodes scenarios_;
};

}  // namespace leastwise
