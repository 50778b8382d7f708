// A program that asks many questions: what may go wrong, how long it may take, and many threads.
#include <leastwise/leastwise.hpp>

#include <chrono>
#include <cstdlib>
#include <iomanip>
#include <iostream>
#include <stop_token>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

namespace {

void print_findings(const leastwise::InputError& error) {
  for (const auto& finding : error.diagnostics()) {
    std::cout << "  " << finding.code << " at ";
    if (finding.place) {
      std::cout << finding.place.source << ':' << finding.place.line << ':' << finding.place.column;
    } else {
      std::cout << finding.path;  // built in code: there is no text to point into
    }
    std::cout << ": " << finding.message << '\n';
  }
}

void misread() {
  constexpr std::string_view text =
      "leastwise: 1\n"
      "materials: {urea: {price_per_t: 4l9}}\n"
      "rates_kg_per_ha: {N: {min: 60}}\n";
  try {
    const auto scenario = leastwise::parse_scenario(text, "order 17");
    std::cout << scenario.title() << '\n';
  } catch (const leastwise::InputError& error) {
    print_findings(error);
  }
}

void misbuild() {
  leastwise::ScenarioDraft draft;
  draft.materials = {{.name = "urea"}};
  draft.rates_kg_per_ha = {{.nutrient = "N", .limits = {.min = 70, .max = 60}}};
  try {
    const leastwise::Scenario scenario(draft);
    std::cout << scenario.title() << '\n';
  } catch (const leastwise::InputError& error) {
    print_findings(error);
  }
}

std::string in_short(const leastwise::Formulation& answer) {
  if (const auto* blend = answer.blend()) {
    return "a blend of " + std::to_string(blend->portions.size()) + " materials";
  }
  if (const auto* conflict = answer.conflict()) {
    std::string names = "no blend:";
    for (const auto& rule : conflict->rules) names += " [" + rule.rule + "]";
    return names;
  }
  const auto* stopped = answer.stopped();
  return "stopped: " + std::string(leastwise::to_string(stopped->cause));
}

leastwise::Formulation in_ten_seconds(const leastwise::Scenario& scenario, std::stop_token stop) {
  leastwise::SolveOptions options;
  options.time_limit = std::chrono::seconds(10);  // of the wall clock, for the whole call
  options.stop = std::move(stop);                 // request_stop() from any thread
  options.intervals = false;                      // prices of rules, but not how far they hold
  return leastwise::formulate(scenario, options);
}

std::vector<std::string> on_threads(const leastwise::Scenario& scenario) {
  std::vector<std::string> answers(8);
  std::vector<std::jthread> threads;
  for (std::size_t i = 0; i < answers.size(); ++i) {
    threads.emplace_back([&scenario, &answer = answers[i], i] {
      const double price = 400 + 25 * static_cast<double>(i);
      answer = leastwise::to_json(leastwise::formulate(scenario.with_price("urea", price)));
    });
  }
  threads.clear();  // waits for all
  return answers;
}

std::vector<std::string> one_by_one(const leastwise::Scenario& scenario) {
  std::vector<std::string> answers(8);
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const double price = 400 + 25 * static_cast<double>(i);
    answers[i] = leastwise::to_json(leastwise::formulate(scenario.with_price("urea", price)));
  }
  return answers;
}

/// Eight prices in one call, and two other questions, to a scenario that is kept ready.
void what_if(const leastwise::Scenario& scenario) {
  const leastwise::PreparedBlend prepared(scenario);
  std::vector<leastwise::WhatIf> questions;
  for (int i = 0; i < 8; ++i) questions.push_back({.prices = {{"urea", 400.0 + 25 * i}}});
  std::vector<std::string> answers;
  for (const auto& answer : leastwise::formulate_many(prepared, questions))
    answers.push_back(leastwise::to_json(answer));
  std::cout << "the eight in one call: "
            << (answers == one_by_one(scenario) ? "the same bytes" : "other bytes") << '\n';
  const leastwise::RuleId need{leastwise::RuleKind::rate, "N", {}, leastwise::RuleSide::min};
  std::cout << "with 65 kg/ha N: " << in_short(prepared.with_limit(need, 65)) << '\n';
  std::cout << "without mop: " << in_short(prepared.without("mop")) << '\n';
}

}  // namespace

int main(int count, char** words) try {
  if (count != 2) return EXIT_FAILURE;
  std::cout << "mistakes\n";
  misread();
  misbuild();

  const auto scenario = leastwise::load_scenario(words[1]);
  std::stop_source source;
  std::cout << "asked: " << in_short(in_ten_seconds(scenario, source.get_token())) << '\n';
  source.request_stop();
  std::cout << "asked again: " << in_short(in_ten_seconds(scenario, source.get_token())) << '\n';

  auto draft = scenario.draft();
  draft.total_kg_per_ha = leastwise::Limits{.max = 200};
  std::cout << "in 200 kg/ha: " << in_short(in_ten_seconds(leastwise::Scenario(draft), {})) << '\n';

  const bool equal = on_threads(scenario) == one_by_one(scenario);
  std::cout << "eight prices on eight threads: " << (equal ? "the same bytes" : "other bytes")
            << '\n';
  what_if(scenario);
  return EXIT_SUCCESS;
} catch (const leastwise::InputError& error) {
  std::cerr << error.to_text();
  return EXIT_FAILURE;
}
