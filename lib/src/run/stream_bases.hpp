#pragma once
#include <leastwise/prepared.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/stream.hpp>

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "run/stream_question.hpp"

namespace leastwise::run_door {

/// A scenario ready for many questions.
class StreamBase {
 public:
  explicit StreamBase(const Scenario& scenario);

  [[nodiscard]] const Scenario& scenario() const { return prepared_.scenario(); }
  /// The answer to `change`, which `question` asks. Throws: InputError, about the question.
  [[nodiscard]] Formulation answer(const StreamChange& change, const QuestionText& question,
                                   const SolveOptions& options) const;

 private:
  [[nodiscard]] WhatIf what_if(const StreamChange& change, const QuestionText& question) const;

  PreparedBlend prepared_;
  std::vector<std::string> materials_{};
  std::map<std::string, RuleId, std::less<>> rules_{};
};

/// The bases of a stream: those given, and files, of which the latest used are kept. Thread safety:
/// safe on any threads at once.
class StreamBases {
 public:
  /// `options` must outlive this.
  explicit StreamBases(const StreamOptions& options);

  /// The base that a question means. Throws: InputError, LoadStopped.
  [[nodiscard]] std::shared_ptr<const StreamBase> of(const StreamChange& change,
                                                     const QuestionText& question);

 private:
  struct Kept {
    std::shared_ptr<const StreamBase> base{};
    std::uint64_t used = 0;
  };

  [[nodiscard]] std::shared_ptr<const StreamBase> from_file(const std::string& name,
                                                            const QuestionText& question);

  const StreamOptions& options_;
  std::map<std::string, std::shared_ptr<const StreamBase>, std::less<>> given_{};
  std::mutex guard_{};
  std::uint64_t uses_ = 0;
  std::map<std::string, Kept, std::less<>> files_{};
};

}  // namespace leastwise::run_door
