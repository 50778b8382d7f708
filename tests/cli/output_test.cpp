#include <doctest/doctest.h>

#include <csignal>
#include <filesystem>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

using namespace leastwise::cli_test;

namespace {

constexpr int not_written = 74;

}  // namespace

TEST_SUITE_BEGIN("output");

TEST_CASE("a report written to a file is the one that would have been printed") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  const Ran ran = run({"blend", file, "--output", folder.path("report.txt")});
  CHECK(ran.exit_code == 0);
  CHECK(ran.out.empty());
  CHECK(ran.err.empty());
  CHECK(folder.read("report.txt") == run({"blend", file}).out);
  CHECK(folder.names() == std::vector<std::string>{"a.yaml", "report.txt"});
}

TEST_CASE("a dash as the path of the report is standard output, as it is input for a file") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  const Ran ran = run({"blend", file, "--output", "-"});
  CHECK(ran.exit_code == 0);
  CHECK(ran.out == run({"blend", file}).out);
  CHECK(run({"blend", file, "--proof", "-"}).exit_code == 64);
}

TEST_CASE("an infeasible scenario's report is written to the file as well") {
  const Folder folder;
  const Ran ran =
      run({"blend", folder.write("a.yaml", impossible), "--output", folder.path("report.txt")});
  CHECK(ran.exit_code == 2);
  CHECK(contains(folder.read("report.txt"), "No blend obeys every rule"));
}

TEST_CASE("an older report is replaced, and stays when the input is rejected") {
  const Folder folder;
  folder.write("report.txt", "old");
  CHECK(run({"blend", folder.write("b.yaml", faulty), "--output", folder.path("report.txt")})
            .exit_code == 1);
  CHECK(folder.read("report.txt") == "old");
  CHECK(run({"blend", folder.write("a.yaml", blendable), "--output", folder.path("report.txt")})
            .exit_code == 0);
  CHECK(contains(folder.read("report.txt"), "Hand-worked blend"));
}

TEST_CASE("on a full disk the older report stays whole and nothing half-written is left") {
  const Folder folder;
  folder.write("report.txt", "old");
  const Ran ran = run({.arguments = {"blend", folder.write("a.yaml", blendable), "--output",
                                     folder.path("report.txt")},
                       .largest_file_bytes = 100});
  CHECK(ran.exit_code == not_written);
  CHECK(contains(ran.err, "cannot write"));
  CHECK(folder.read("report.txt") == "old");
  CHECK(folder.names() == std::vector<std::string>{"a.yaml", "report.txt"});
}

TEST_CASE("ended while it writes, the tool leaves no passing file behind") {
  const Folder folder;
  const std::string report = folder.path("materials.html");
  REQUIRE(run({"materials", "--format", "html", "--output", report}).exit_code == 0);
  for (int k = 0; k < 40; ++k) {
    const Ran ran = run(Run{.arguments = {"materials", "--format", "html", "--output", report},
                            .interrupt_after_s = 0.0005 * k});
    CHECK((ran.exit_code == 0 || ran.exit_code == 3 || ran.exit_code == 128 + SIGINT));
  }
  CHECK(folder.names() == std::vector<std::string>{"materials.html"});
}

TEST_CASE("nothing is written over what is read, nor a proof over its report") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  const auto refused = [&](std::vector<std::string> arguments, std::string_view words) {
    const Ran ran = run(std::move(arguments));
    CHECK(ran.exit_code == 64);
    CHECK(ran.out.empty());
    CHECK_MESSAGE(contains(ran.err, words), ran.err);
    CHECK(folder.read("a.yaml") == blendable);
  };
  std::filesystem::create_symlink("a.yaml", folder.path("link.yaml"));
  refused({"blend", file, "--output", file}, "which is read");
  refused({"blend", file, "--output", folder.path("link.yaml")}, "which is read");
  refused({"blend", folder.path("link.yaml"), "--output", folder.path("./a.yaml")},
          "which is read");
  refused({"blend", file, "--proof", file}, "which is read");
  refused({"check", file, "--output", file}, "which is read");
  refused({"blend", file, "--proof", folder.path("p"), "--output", folder.path("p")}, "the same");
  refused({"blend", file, "--proof", folder.path("p"), "--output", folder.path("./p")}, "the same");
  CHECK(folder.names() == std::vector<std::string>{"a.yaml", "link.yaml"});
  REQUIRE(run({"blend", file, "--proof", folder.path("p")}).exit_code == 0);
  const std::string proof = folder.read("p");
  CHECK(run({"verify", folder.path("p"), file, "--output", folder.path("p")}).exit_code == 64);
  CHECK(folder.read("p") == proof);
  CHECK(run({"blend", file, "--proof", "/dev/null", "--output", "/dev/null"}).exit_code == 0);
}

TEST_CASE("nothing is written over a file that a scenario or a trial names") {
  const Folder folder;
  const std::string prices = "material,price_per_t\nurea,455\n";
  const std::string catalogue = "materials:\n  sand: {form: granule, contains_percent: {}}\n";
  folder.write("p.csv", prices);
  folder.write("c.yaml", catalogue);
  const std::string file =
      folder.write("a.yaml", std::string(blendable) +
                                 "prices: p.csv\ncatalogue: [c.yaml]\nuse: [urea, stone]\n");
  const std::string trial_file = folder.write("t.yaml", R"(leastwise: 1
trial: {title: Names others, currency: USD}
treatments:
  fed: {scenario: a.yaml, rates_kg_per_ha: {N: {exactly: 60}}}
sites:
  here: {replicates: 2, plot: {width_m: 3, length_m: 10}}
)");
  REQUIRE(run({"blend", file}).exit_code == 0);
  const std::vector<std::vector<std::string>> commands{
      {"blend", file},        {"check", file},       {"materials", file},
      {"alternatives", file}, {"batch", trial_file}, {"plan", trial_file}};
  for (const auto& command : commands)
    for (const char* named : {"p.csv", "c.yaml", "./p.csv"}) {
      auto arguments = command;
      arguments.insert(arguments.end(), {"--output", folder.path(named)});
      const Ran ran = run(std::move(arguments));
      CAPTURE(command.front());
      CHECK(ran.exit_code == 64);
      CHECK_MESSAGE(contains(ran.err, "which is read"), ran.err);
    }
  CHECK(run({"batch", trial_file, "--output", file}).exit_code == 64);
  CHECK(run({"blend", file, "--proof", folder.path("p.csv")}).exit_code == 64);
  CHECK(folder.read("p.csv") == prices);
  CHECK(folder.read("c.yaml") == catalogue);
}

TEST_CASE("whatever a scenario says, the screen is not steered by it") {
  const Folder folder;
  std::string text(blendable);
  text.replace(text.find("USD"), 3, R"("\e]0;x\a\0U\u202E\u2066\u009BSD")");
  text.replace(text.find("Hand-worked blend"), 17, R"("\e[2JTi\u202Etle\r\n")");
  text += "risk: {prices: {urea: {lognormal_percent: 5}}}\n";
  const std::string file = folder.write("a.yaml", text);
  const std::vector<std::vector<std::string>> commands{
      {"blend", file},
      {"blend", "--step-kg", "0.5", file},
      {"check", file},
      {"materials", file},
      {"alternatives", file},
      {"alternatives", "--within", "5", "--fewest", file},
      {"prices", "--vary", "urea", file},
      {"prices", "--vary", "urea", "--vary", "stone", file},
      {"prices", "--limit", "grade N exactly=15:25", file},
      {"compare", file, file},
      {"risk", "--draws", "20", file}};
  for (const auto& command : commands) {
    CAPTURE(command[0]);
    const Ran ran = run(command);
    CHECK_MESSAGE(ran.exit_code == (command[1] == "--step-kg" ? 2 : 0), ran.err);  // no such steps
    for (const std::string_view bad :
         {"\x1b", "\a", "\r", "\xE2\x80\xAE", "\xE2\x81\xA6", "\xC2\x9B"})
      CHECK_FALSE(contains(ran.out + ran.err, bad));
    CHECK((ran.out + ran.err).find('\0') == std::string::npos);
  }
}

TEST_CASE("a folder that is missing, or a folder in the file's place, is an error") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  for (const std::string& path : {folder.path("none/report.txt"), folder.path(".")}) {
    const Ran ran = run({"blend", file, "--output", path});
    CHECK(ran.exit_code == not_written);
    CHECK(contains(ran.err, path));
    CHECK(ran.out.empty());
  }
  CHECK(folder.names() == std::vector<std::string>{"a.yaml"});
}

TEST_CASE("a link is followed and the permissions of the replaced file are kept") {
  namespace fs = std::filesystem;
  const Folder folder;
  fs::permissions(folder.write("real.txt", "old"), fs::perms::owner_read | fs::perms::owner_write);
  fs::create_symlink("real.txt", folder.path("link.txt"));
  CHECK(run({"blend", folder.write("a.yaml", blendable), "--output", folder.path("link.txt")})
            .exit_code == 0);
  CHECK(fs::is_symlink(folder.path("link.txt")));
  CHECK(contains(folder.read("real.txt"), "Hand-worked blend"));
  CHECK(fs::status(folder.path("real.txt")).permissions() ==
        (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("a device is written into and never replaced") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  CHECK(run({"blend", file, "--output", "/dev/null"}).exit_code == 0);
  CHECK(std::filesystem::is_character_file("/dev/null"));
  CHECK(run({"blend", file, "--output", "/dev/full"}).exit_code == not_written);
}

TEST_CASE("closed or full standard output is noticed, said and told by the exit code") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  for (const StandardOutput output : {StandardOutput::closed, StandardOutput::full}) {
    const Ran ran = run({.arguments = {"blend", file}, .output = output});
    CHECK(ran.exit_code == not_written);
    CHECK(contains(ran.err, "cannot write to standard output"));
    CHECK(run({.arguments = {"--help"}, .output = output}).exit_code == not_written);
  }
}

TEST_CASE("with standard output closed a report still reaches its file untouched") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  const Ran ran = run({.arguments = {"blend", file, "--output", folder.path("report.txt")},
                       .output = StandardOutput::closed});
  CHECK(ran.exit_code == 0);
  CHECK(folder.read("report.txt") == run({"blend", file}).out);
}

TEST_CASE("a reader that went away ends the tool quietly") {
  const Folder folder;
  const Ran ran = run({.arguments = {"blend", folder.write("a.yaml", blendable)},
                       .output = StandardOutput::broken_pipe});
  CHECK(ran.exit_code == not_written);
  CHECK(ran.err.empty());
}

TEST_CASE("colour is for terminals, unless asked for") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  CHECK_FALSE(contains(run({"blend", file}).out, "\x1b["));
  CHECK(contains(run({"blend", file, "--colour", "always"}).out, "\x1b[1m"));
  CHECK_FALSE(contains(run({"blend", file, "--colour", "never"}).out, "\x1b["));
  CHECK(run({"blend", file, "--output", folder.path("report.txt")}).exit_code == 0);
  CHECK_FALSE(contains(folder.read("report.txt"), "\x1b["));
}

TEST_CASE("a terminal gets colour, but not where NO_COLOR or a dumb terminal says otherwise") {
  const Folder folder;
  Run terminal{.arguments = {"blend", folder.write("a.yaml", blendable)},
               .environment = {"TERM=xterm"},
               .output = StandardOutput::terminal};
  CHECK(contains(run(terminal).out, "\x1b[1m"));
  terminal.environment = {"TERM=xterm", "NO_COLOR="};
  CHECK(contains(run(terminal).out, "\x1b[1m"));
  terminal.environment = {"TERM=xterm", "NO_COLOR=1"};
  CHECK_FALSE(contains(run(terminal).out, "\x1b["));
  terminal.environment = {"TERM=dumb"};
  CHECK_FALSE(contains(run(terminal).out, "\x1b["));
}

TEST_SUITE_END();
