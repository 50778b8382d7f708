#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/stream.hpp>

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/yaml/document.hpp"
#include "input/yaml/node_reader.hpp"

namespace leastwise::run_door {

/// What a question wants different from a base.
struct StreamChange {
  std::optional<std::string> base{};                     ///< its name; nothing: the first
  std::optional<VariantDraft> change{};                  ///< as a variant of the base, made first
  std::vector<std::pair<std::string, double>> prices{};  ///< per tonne, by material
  std::vector<std::pair<std::string, double>> limits{};  ///< by rule
  std::vector<std::string> without{};                    ///< materials
};

/// One line of a stream of questions.
class QuestionText {
 public:
  /// Reads `text` as JSON. Throws: InputError; LoadStopped.
  QuestionText(std::string_view text, const StreamOptions& options);

  /// What the question calls itself, as JSON; `null` where it does not.
  [[nodiscard]] std::string id() const;
  /// Whether it is a whole scenario.
  [[nodiscard]] bool is_scenario() const;
  /// As a whole scenario. Throws: InputError; LoadStopped.
  [[nodiscard]] Scenario scenario(const StreamOptions& options);
  /// As a change of a base. Throws: InputError.
  [[nodiscard]] StreamChange change();
  /// Refuses it for what is wrong at `path`. Throws: InputError.
  [[noreturn]] void refuse(const std::string& path, std::string_view code,
                           const std::string& message) const;

 private:
  [[nodiscard]] const Node* value_of(std::string_view key) const;

  std::string name_;
  Node root_{};
  NodeReader::Places places_{};
  NodeReader::Sources sources_{};
};

}  // namespace leastwise::run_door
