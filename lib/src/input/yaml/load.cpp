#include <leastwise/load.hpp>

#include <set>
#include <stdexcept>
#include <utility>

#include "base/codes.hpp"
#include "base/embedded.hpp"
#include "base/reading_stop.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"
#include "input/named_file.hpp"
#include "input/price_list.hpp"
#include "input/text_file.hpp"
#include "input/yaml/document.hpp"
#include "input/yaml/inline_scenario.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/node_reader.hpp"
#include "input/yaml/risk_keys.hpp"
#include "input/yaml/scenario_keys.hpp"
#include "scenario/builder.hpp"
#include "scenario/values_read.hpp"

namespace leastwise {
namespace {

/// Reads a scenario and the files it names into one draft.
class ScenarioReader {
 public:
  ScenarioReader(std::string name, std::filesystem::path folder, LoadOptions options)
      : name_(std::move(name)), folder_(std::move(folder)), options_(std::move(options)) {
    if (!options_.prices_on.empty() && !day_of(options_.prices_on))
      throw std::invalid_argument("the day of prices must be one such as 2026-03-02, found " +
                                  in_quotes(options_.prices_on));
  }

  void read(TextFile file) {
    draft_.places.emplace(std::string(), Place{name_, 0, 0, 1});
    if (!file.good()) {
      reject_text(name_, file);
      return;
    }
    draft_.source_lines.emplace(name_, std::move(file.lines));
    NodeReader reader(name_, draft_.source_lines, draft_.places, reading_);
    const Document document = parse(reader, file.text);
    if (!document.complete) {
      reading_.unreadable.insert(std::string());
      return;
    }
    read_root(reader, document.root);
  }

  /// Reads a scenario that stands inside another file with these lines.
  void read_inside(std::vector<std::string> lines, const Node& root) {
    const auto& spot = root.spot;
    draft_.places.emplace(std::string(), Place{name_, spot.line, spot.column, spot.width});
    draft_.source_lines.emplace(name_, std::move(lines));
    NodeReader reader(name_, draft_.source_lines, draft_.places, reading_);
    read_root(reader, root);
  }

  /// Whether the text was too broken to say anything about its meaning.
  [[nodiscard]] bool nothing_is_known() const {
    return reading_.unreadable.find(std::string()) != reading_.unreadable.end();
  }

  ScenarioDraft take_draft() { return std::move(draft_); }
  Reading take_reading() { return std::move(reading_); }

 private:
  void read_root(NodeReader& reader, const Node& root) {
    ScenarioText scenario{draft_, {}, {}, {}};
    read_scenario(reader, root, scenario);
    if (nothing_is_known()) return;
    if (!options_.prices_on.empty()) draft_.prices_on = options_.prices_on;
    if (!options_.plant.empty()) draft_.plant = options_.plant;
    read_catalogues(reader, scenario.catalogues);
    if (scenario.prices) read_prices(reader, *scenario.prices);
    if (scenario.history) read_history(reader, *scenario.history);
  }

  Document parse(NodeReader& reader, const std::string& text) {
    Document document =
        parse_document(text, draft_.source_lines.find(reader.name())->second, options_.stop);
    for (const auto& problem : document.problems) reader.report(problem);
    return document;
  }

  /// Reports a text that is not one.
  void reject_text(const std::string& name, const TextFile& file) {
    reading_.diagnostics.push_back(fault_of(name, file));
    reading_.unreadable.insert(std::string());
  }

  void read_catalogues(NodeReader& reader, const std::vector<NamedFile>& files) {
    std::set<std::string, std::less<>> own;
    for (const auto& material : draft_.materials) own.insert(material.name);
    CatalogueText catalogue{own, {}, {}, {}};
    for (const auto& file : files) read_catalogue_file(reader, file, catalogue);
    catalogue.materials.insert(catalogue.materials.end(),
                               std::make_move_iterator(draft_.materials.begin()),
                               std::make_move_iterator(draft_.materials.end()));
    draft_.materials = std::move(catalogue.materials);
  }

  void read_catalogue_file(NodeReader& reader, const NamedFile& file, CatalogueText& catalogue) {
    const auto text = open(reader, file);
    if (!text) return;
    NodeReader::Places places;
    NodeReader own_page(display_name(file), draft_.source_lines, places, reading_);
    const Document document = parse(own_page, *text);
    if (!document.complete) {
      reading_.unreadable.insert(file.path);
      return;
    }
    catalogue.passed_over.clear();
    read_catalogue(own_page, document.root, catalogue);
    draft_.places.merge(places);  // keeps the scenario's own places where both have one
    if (!catalogue.passed_over.empty()) {
      draft_.notes.push_back({NoteLevel::info, NoteCode::catalogue_replaced, catalogue.passed_over,
                              "the scenario's own " + listed(catalogue.passed_over) + " replaces " +
                                  "what " + in_quotes(file.name) + " says"});
    }
  }

  void read_prices(NodeReader& reader, const NamedFile& file) {
    const auto text = open(reader, file);
    if (!text) return;
    NodeReader own_page(display_name(file), draft_.source_lines, draft_.places, reading_);
    own_page.count_in(draft_.units);
    draft_.prices = read_price_list(own_page, *text, {day_of(draft_.prices_on), draft_.plant});
    draft_.price_list = file.name;
  }

  void read_history(NodeReader& reader, const NamedFile& file) {
    const auto text = open(reader, file);
    if (!text || !draft_.risk) return;
    NodeReader own_page(display_name(file), draft_.source_lines, draft_.places, reading_);
    own_page.count_in(draft_.units);
    draft_.risk->history = read_price_history(own_page, *text);
  }

  [[nodiscard]] std::string display_name(const NamedFile& file) const {
    return (folder_ / file.name).lexically_normal().string();
  }

  /// The text of a file that the scenario names; its lines are kept for messages.
  std::optional<std::string> open(NodeReader& reader, const NamedFile& file) {
    leave_if_asked(options_.stop);
    const auto complain = [&](std::string_view code, const std::string& message) {
      reader.error(code, file.path, file.spot, message);
    };
    if (!folder_.empty() && file.name.empty()) {
      complain(codes::bad_name, "expected the name of a file, found nothing");
      return std::nullopt;
    }
    if (const auto fault = fault_of_name(folder_, file.name, "scenario", options_)) {
      complain(fault->code, fault->message);
      return std::nullopt;
    }
    const std::string name = display_name(file);
    if (draft_.source_lines.find(name) != draft_.source_lines.end()) {
      complain(codes::duplicate_name,
               "a file must be named once, found " + in_quotes(file.name) + " again");
      return std::nullopt;
    }
    TextFile text = read_named_file(folder_ / file.name, options_);
    if (!text.good()) {
      if (text.line > 0)
        reject_part(name, text, file.path);
      else
        complain(text.code, "the file " + in_quotes(file.name) + " " + text.problem);
      return std::nullopt;
    }
    draft_.source_lines.emplace(name, std::move(text.lines));
    return std::move(text.text);
  }

  void reject_part(const std::string& name, const TextFile& text, const std::string& path) {
    const bool known = nothing_is_known();
    reject_text(name, text);
    if (!known) reading_.unreadable.erase(std::string());
    reading_.unreadable.insert(path);
  }

  std::string name_;
  std::filesystem::path folder_;
  LoadOptions options_;
  ScenarioDraft draft_{};
  Reading reading_{};
};

ScenarioReader read_file(const std::filesystem::path& file, TextFile text,
                         const LoadOptions& options) {
  const auto folder = file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
  ScenarioReader reader(file.string(), folder, options);
  reader.read(std::move(text));
  return reader;
}

Scenario resolved(ScenarioReader reader, const LoadOptions& options) {
  const bool hopeless = reader.nothing_is_known();
  Reading reading = reader.take_reading();
  if (hopeless) throw InputError(std::move(reading.diagnostics));
  return ScenarioBuilder(reader.take_draft(), std::move(reading), options.stop).build();
}

}  // namespace

ReadScenario read_inline_scenario(const std::string& name, std::vector<std::string> lines,
                                  Node root, const std::filesystem::path& folder,
                                  const LoadOptions& options) {
  if (root.kind == Node::Kind::mapping && find_entry(root, "leastwise") == nullptr) {
    NodeEntry version;
    version.key.kind = version.value.kind = Node::Kind::scalar;
    version.key.spot = version.value.spot = root.spot;
    version.key.text = "leastwise";
    version.value.text = "1";
    root.entries.insert(root.entries.begin(), std::move(version));
  }
  ScenarioReader reader(name, folder, options);
  reader.read_inside(std::move(lines), root);
  return {reader.take_draft(), reader.take_reading()};
}

ReadScenario read_scenario_file(const std::filesystem::path& file, TextFile text,
                                const LoadOptions& options) {
  ScenarioReader reader = read_file(file, std::move(text), options);
  return {reader.take_draft(), reader.take_reading()};
}

Scenario load_scenario(const std::filesystem::path& file, const LoadOptions& options) {
  return resolved(read_file(file, read_text_file(file), options), options);
}

Scenario parse_scenario(std::string_view text, std::string_view name,
                        const std::filesystem::path& folder, const LoadOptions& options) {
  ScenarioReader reader(std::string(name), folder, options);
  reader.read(split_text(text));
  return resolved(std::move(reader), options);
}

ScenarioDraft load_draft(const std::filesystem::path& file, const LoadOptions& options) {
  ScenarioReader reader = read_file(file, read_text_file(file), options);
  Reading reading = reader.take_reading();
  if (!reading.diagnostics.empty()) throw InputError(std::move(reading.diagnostics));
  ScenarioDraft draft = reader.take_draft();
  remember_values(draft);
  return draft;
}

std::string_view scenario_schema() { return embedded::scenario_schema_json(); }

}  // namespace leastwise
