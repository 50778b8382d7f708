#include <leastwise/trial_load.hpp>

#include <utility>

#include "base/embedded.hpp"
#include "input/text_file.hpp"
#include "input/yaml/document.hpp"
#include "input/yaml/node_reader.hpp"
#include "input/yaml/trial_keys.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

Trial read_trial_text(const std::string& name, TextFile file, const std::filesystem::path& folder,
                      const LoadOptions& options) {
  if (!file.good()) throw InputError({fault_of(name, file)});
  TrialDraft draft;
  Reading reading;
  draft.places.emplace(std::string(), Place{name, 0, 0, 1});
  const auto& lines = draft.source_lines.emplace(name, std::move(file.lines)).first->second;
  NodeReader reader(name, draft.source_lines, draft.places, reading);
  const Document document = parse_document(file.text, lines, options.stop);
  for (const auto& problem : document.problems) reader.report(problem);
  if (!document.complete) throw InputError(std::move(reading.diagnostics));
  TrialText trial{draft, nullptr, {}, {}};
  read_trial(reader, document.root, trial);
  const bool hopeless = reading.unreadable.find(std::string()) != reading.unreadable.end();
  if (hopeless) throw InputError(std::move(reading.diagnostics));
  TreatmentScenarios(reader, trial, reading, folder, options).build();
  return TrialBuilder(std::move(draft), std::move(reading)).build();
}

}  // namespace

Trial load_trial(const std::filesystem::path& file, const LoadOptions& options) {
  const auto folder = file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
  return read_trial_text(file.string(), read_text_file(file), folder, options);
}

Trial parse_trial(std::string_view text, std::string_view name, const std::filesystem::path& folder,
                  const LoadOptions& options) {
  return read_trial_text(std::string(name), split_text(text), folder, options);
}

std::string_view trial_schema() { return embedded::trial_schema_json(); }

}  // namespace leastwise
