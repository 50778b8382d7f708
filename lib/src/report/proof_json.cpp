#include <leastwise/diagnostic.hpp>
#include <leastwise/proof.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "exact/fingerprint.hpp"

namespace leastwise {
namespace {

using Json = nlohmann::ordered_json;

constexpr int proof_version = 1;
constexpr int deepest = 8;

Json json_of(const ProofCase& one) {
  Json decisions = Json::array();
  for (const auto& decision : one.decisions)
    decisions.push_back({{"choice", decision.choice}, {"of", decision.of}});
  Json multipliers = Json::array();
  for (const auto& multiplier : one.multipliers)
    multipliers.push_back({{"rule", multiplier.rule}, {"value", multiplier.value}});
  return {{"decisions", std::move(decisions)},
          {"multipliers", std::move(multipliers)},
          {"settled_by", one.settled_by},
          {"bound", one.bound}};
}

/// The proof without its seal.
Json json_of(const Proof& proof) {
  Json portions = Json::array();
  for (const auto& portion : proof.portions)
    portions.push_back({{"material", portion.material}, {"kg", portion.kg}});
  Json cases = Json::array();
  for (const auto& one : proof.cases) cases.push_back(json_of(one));
  return {{"leastwise-proof", proof_version},
          {"claim", proof.claim},
          {"scenario", proof.scenario},
          {"title", proof.title},
          {"currency", proof.currency},
          {"basis", proof.basis},
          {"cost", proof.cost},
          {"portions", std::move(portions)},
          {"cases", std::move(cases)}};
}

std::string seal_of(const Json& json) {
  return exact::digest(json.dump(-1, ' ', false, Json::error_handler_t::replace));
}

/// Lines of their own for what a person looks up; cases and portions on one line each.
std::string laid_out(const Json& json) {
  std::string text = "{";
  for (const auto& [key, value] : json.items()) {
    text += text.size() == 1 ? "\n  " : ",\n  ";
    text += Json(key).dump() + ": ";
    if (!value.is_array()) {
      text += value.dump(-1, ' ', false, Json::error_handler_t::replace);
      continue;
    }
    text += '[';
    for (std::size_t k = 0; k < value.size(); ++k)
      text += (k == 0 ? "\n    " : ",\n    ") +
              value[k].dump(-1, ' ', false, Json::error_handler_t::replace);
    text += value.empty() ? "]" : "\n  ]";
  }
  return text + "\n}\n";
}

[[noreturn]] void refuse(std::string_view name, std::string message) {
  Diagnostic diagnostic;
  diagnostic.code = "bad-proof";
  diagnostic.message = std::move(message);
  diagnostic.place.source = name;
  diagnostic.path = name;
  throw InputError({std::move(diagnostic)});
}

/// Takes a proof apart; every key must be there, once, and no other.
class ProofReader {
 public:
  explicit ProofReader(std::string_view name) : name_(name) {}

  Proof read(std::string_view text) {
    const Json json = parse(text);
    expect_object(json, "a proof",
                  {"leastwise-proof", "claim", "scenario", "title", "currency", "basis", "cost",
                   "portions", "cases", "seal"});
    if (json["leastwise-proof"] != proof_version || !json["leastwise-proof"].is_number_integer())
      refuse(name_, "this is no proof of format version 1");
    Proof proof;
    proof.claim = text_of(json, "claim");
    proof.scenario = text_of(json, "scenario");
    proof.title = text_of(json, "title");
    proof.currency = text_of(json, "currency");
    proof.basis = text_of(json, "basis");
    proof.cost = text_of(json, "cost");
    for (const auto& item : list_of(json, "portions")) {
      expect_object(item, "a portion", {"material", "kg"});
      proof.portions.push_back({text_of(item, "material"), text_of(item, "kg")});
    }
    for (const auto& item : list_of(json, "cases")) proof.cases.push_back(read_case(item));
    if (text_of(json, "seal") != seal_of(json_of(proof)))
      refuse(name_, "the proof was changed after it was written: its seal does not match");
    return proof;
  }

 private:
  [[nodiscard]] Json parse(std::string_view text) const {
    std::vector<std::set<std::string>> keys;
    const auto watch = [&](int depth, Json::parse_event_t event, Json& value) {
      if (depth > deepest) refuse(name_, "the proof is nested too deep");
      if (event == Json::parse_event_t::object_start) keys.emplace_back();
      if (event == Json::parse_event_t::object_end) keys.pop_back();
      if (event == Json::parse_event_t::key && !keys.back().insert(value.get<std::string>()).second)
        refuse(name_, "the key '" + value.get<std::string>() + "' stands twice in one place");
      return true;
    };
    try {
      return Json::parse(text, watch);
    } catch (const Json::exception&) {
      refuse(name_, "the proof is not JSON");
    }
  }

  [[nodiscard]] ProofCase read_case(const Json& json) const {
    expect_object(json, "a case", {"decisions", "multipliers", "settled_by", "bound"});
    ProofCase one;
    for (const auto& item : list_of(json, "decisions")) {
      expect_object(item, "a decision", {"choice", "of"});
      one.decisions.push_back({text_of(item, "choice"), text_of(item, "of")});
    }
    for (const auto& item : list_of(json, "multipliers")) {
      expect_object(item, "a multiplier", {"rule", "value"});
      one.multipliers.push_back({text_of(item, "rule"), text_of(item, "value")});
    }
    one.settled_by = text_of(json, "settled_by");
    one.bound = text_of(json, "bound");
    return one;
  }

  void expect_object(const Json& json, const std::string& what,
                     const std::vector<std::string>& keys) const {
    if (!json.is_object()) refuse(name_, what + " must be a JSON object");
    for (const auto& key : keys)
      if (!json.contains(key)) refuse(name_, what + " lacks the key '" + key + "'");
    for (const auto& [key, value] : json.items())
      if (std::find(keys.begin(), keys.end(), key) == keys.end())
        refuse(name_, what + " has the unknown key '" + key + "'");
  }
  [[nodiscard]] std::string text_of(const Json& json, const std::string& key) const {
    const auto& value = json[key];
    if (!value.is_string()) refuse(name_, "'" + key + "' must be a text");
    return value.get<std::string>();
  }
  [[nodiscard]] const Json& list_of(const Json& json, const std::string& key) const {
    const auto& value = json[key];
    if (!value.is_array()) refuse(name_, "'" + key + "' must be a list");
    return value;
  }

  std::string_view name_;
};

}  // namespace

std::string to_json(const Proof& proof) {
  Json json = json_of(proof);
  json["seal"] = seal_of(json);
  return laid_out(json);
}

Proof parse_proof(std::string_view json, std::string_view name) {
  return ProofReader(name).read(json);
}

std::string_view to_string(ProofVerdict verdict) {
  switch (verdict) {
    case ProofVerdict::proved_optimal:
      return "proved optimal";
    case ProofVerdict::proved_within_1e_9:
      return "proved within 1e-9";
    case ProofVerdict::proved_infeasible:
      return "proved infeasible";
    case ProofVerdict::stopped:
      return "stopped";
    case ProofVerdict::not_proved:
      break;
  }
  return "not proved";
}

}  // namespace leastwise
