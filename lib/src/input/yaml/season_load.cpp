#include <leastwise/season_load.hpp>

#include <utility>

#include "base/codes.hpp"
#include "base/embedded.hpp"
#include "base/text/wording.hpp"
#include "input/text_file.hpp"
#include "input/yaml/document.hpp"
#include "input/yaml/scenario_nodes.hpp"
#include "input/yaml/season_keys.hpp"
#include "scenario/builder.hpp"
#include "season/season_builder.hpp"

namespace leastwise {
namespace {

/// Puts a season file and the scenarios it names together.
class SeasonReader {
 public:
  SeasonReader(std::string name, std::filesystem::path folder, const LoadOptions& options)
      : name_(std::move(name)), folder_(std::move(folder)), options_(options) {}

  Season read(TextFile file) {
    if (!file.good()) throw InputError({fault_of(name_, file)});
    draft_.places.emplace(std::string(), Place{name_, 0, 0, 1});
    const auto& lines = draft_.source_lines.emplace(name_, std::move(file.lines)).first->second;
    NodeReader reader(name_, draft_.source_lines, draft_.places, reading_);
    const Document document = parse_document(file.text, lines, options_.stop);
    for (const auto& problem : document.problems) reader.report(problem);
    if (!document.complete) throw InputError(std::move(reading_.diagnostics));
    SeasonText season{draft_, {}};
    read_season(reader, document.root, season);
    if (reading_.unreadable.contains(std::string()))
      throw InputError(std::move(reading_.diagnostics));
    ScenarioNodes scenarios(reader, lines, reading_, folder_, options_, "season");
    for (auto& blend : season.blends) {
      add_scenario(reader, scenarios, blend);
      draft_.blends.push_back(std::move(blend.draft));
    }
    return SeasonBuilder(std::move(draft_), std::move(reading_)).build();
  }

 private:
  /// Whether the blend names the file that it stands in.
  [[nodiscard]] bool names_itself(const Node& node) const {
    return node.kind == Node::Kind::scalar && !folder_.empty() &&
           (folder_ / node.text).lexically_normal() ==
               std::filesystem::path(name_).lexically_normal();
  }

  void add_scenario(NodeReader& reader, ScenarioNodes& scenarios, SeasonBlendText& blend) {
    if (blend.scenario == nullptr) return;
    const std::string path = path_below(blend.draft.path, "scenario");
    if (names_itself(*blend.scenario)) {
      reader.error(codes::bad_season, path, blend.scenario->spot,
                   "the scenario of a blend must be a file of its own, found the season itself, " +
                       in_quotes(blend.scenario->text));
      reader.mark_unreadable(blend.draft.path);
      return;
    }
    const ReadScenario* read = scenarios.at(*blend.scenario, path);
    if (read == nullptr) {
      reader.mark_unreadable(blend.draft.path);
      return;
    }
    try {
      blend.draft.scenario = ScenarioBuilder(read->draft, read->reading, options_.stop).build();
    } catch (const InputError& error) {
      scenarios.report(error.diagnostics());
      reader.mark_unreadable(blend.draft.path);
    }
  }

  std::string name_;
  std::filesystem::path folder_;
  const LoadOptions& options_;
  SeasonDraft draft_{};
  Reading reading_{};
};

}  // namespace

Season load_season(const std::filesystem::path& file, const LoadOptions& options) {
  const auto folder = file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
  return SeasonReader(file.string(), folder, options).read(read_text_file(file));
}

Season parse_season(std::string_view text, std::string_view name,
                    const std::filesystem::path& folder, const LoadOptions& options) {
  return SeasonReader(std::string(name), folder, options).read(split_text(text));
}

std::string_view season_schema() { return embedded::season_schema_json(); }

}  // namespace leastwise
