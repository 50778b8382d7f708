#pragma once
#include <leastwise/compare.hpp>
#include <leastwise/question.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise::run_door {

// Stable codes of diagnostics that no file can have.
inline constexpr std::string_view unknown_command = "unknown-command";
inline constexpr std::string_view bad_option = "bad-option";

/// Another scenario of a comparison, as text.
struct OtherScenario {
  std::string name{};
  std::string text{};
  std::string path{};  ///< where the options state it
};

/// Everything that the options of some command may say.
struct Options {
  std::vector<PriceChange> prices{};
  std::optional<VariantDraft> change{};  ///< as a variant of the scenario
  std::optional<double> time_limit_s{};
  BlendQuestion blend{};
  bool proof = false;  ///< `blend`: hand out a proof as well
  PricesQuestion prices_map{};
  RiskQuestion risk{};
  AlternativesQuestion alternatives{};
  CompareQuestion compare{};
  std::vector<OtherScenario> others{};
  std::optional<std::string> weighed{};     ///< `batch`: CSV
  std::optional<std::string> proof_text{};  ///< `verify`
};

/// The options of one call, and where each stands in their text.
class OptionsText {
 public:
  /// Reads `text`, the options of `command`. Throws: InputError.
  OptionsText(std::string_view command, std::string_view text);

  [[nodiscard]] const Options& options() const { return options_; }
  /// Refuses the input for what is wrong with the option at `path`. Throws: InputError.
  [[noreturn]] void refuse(const std::string& path, std::string_view code,
                           const std::string& message) const;

 private:
  Options options_{};
  NodeReader::Places places_{};
  NodeReader::Sources sources_{};
};

}  // namespace leastwise::run_door
