#include <doctest/doctest.h>
#include <sys/stat.h>

#include <filesystem>
#include <string>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

// What a stranger, a broken disk or a small machine may do to the tool: each ends in one clear
// error, and never in a report.

using namespace leastwise::cli_test;

namespace {

#if defined(LEASTWISE_SANITIZED)
constexpr bool sanitized = true;  // a sanitizer needs more address space than may be granted
#else
constexpr bool sanitized = false;
#endif

void check_refused(const Ran& ran, const std::string& message) {
  CHECK(ran.exit_code == 1);
  CHECK(ran.out.empty());
  CHECK_MESSAGE(ran.err.find(message) != std::string::npos, ran.err);
}

}  // namespace

TEST_SUITE("breaking") {
  TEST_CASE("a file of a hundred megabytes is refused after its first part") {
    const Folder folder;
    const std::string file = folder.write("large.yaml", "leastwise: 1\n");
    std::filesystem::resize_file(file, 100'000'000);
    check_refused(run({"check", file}), "is larger than 16 MiB");
  }

  TEST_CASE("brackets without end are refused") {
    const Folder folder;
    const std::string many(300'000, '[');
    check_refused(run({"blend", folder.write("deep.yaml", "leastwise: 1\nuse: " + many + "\n")}),
                  "nested at most");
  }

  TEST_CASE("aliases that would unfold to a billion items are refused") {
    const Folder folder;
    std::string text = "leastwise: 1\na0: &a0 [x, x, x, x, x, x, x, x, x, x]\n";
    for (int level = 1; level < 10; ++level) {
      const std::string before = "*a" + std::to_string(level - 1);
      text += "a" + std::to_string(level) + ": &a" + std::to_string(level) + " [";
      for (int copy = 0; copy < 10; ++copy) text += (copy == 0 ? "" : ", ") + before;
      text += "]\n";
    }
    check_refused(run({"blend", folder.write("laughs.yaml", text)}), "laughs.yaml:2:");
  }

  TEST_CASE("numbers at the ends of what a computer holds are refused, not computed with") {
    for (const char* price : {"1e308", "1e309", "-1e308", ".inf", ".nan", "1e-99999"}) {
      CAPTURE(price);
      const Folder folder;
      const Ran ran =
          run({"blend", folder.write("numbers.yaml",
                                     std::string("leastwise: 1\n"
                                                 "materials:\n"
                                                 "  a: {form: granule, contains_percent: {N: 46}, "
                                                 "price_per_t: ") +
                                         price +
                                         "}\n"
                                         "grade_percent: {N: {min: 46}}\n")});
      CHECK((ran.exit_code == 1 || std::string(price) == "1e-99999"));
      CHECK(ran.exit_code <= 1);
      CHECK(ran.out.find("inf") == std::string::npos);
      CHECK(ran.out.find("nan") == std::string::npos);
    }
  }

  TEST_CASE("zero bytes and bytes that are no text are refused at their place") {
    const Folder folder;
    check_refused(
        run({"check", folder.write("zero.yaml", std::string("leastwise: 1\nt\0x: 1\n", 20))}),
        "zero.yaml:2:2:");
    check_refused(run({"check", folder.write("latin.yaml", "leastwise: 1\ntitle: caf\xE9\n")}),
                  "latin.yaml:2:11:");
  }

  TEST_CASE("a link that leads back to itself is refused") {
    const Folder folder;
    std::filesystem::create_symlink(folder.path("b.yaml"), folder.path("a.yaml"));
    std::filesystem::create_symlink(folder.path("a.yaml"), folder.path("b.yaml"));
    check_refused(run({"check", folder.path("a.yaml")}), "leads back to itself");
    std::filesystem::create_symlink("p.csv", folder.path("p.csv"));
    check_refused(
        run({"check", folder.write("s.yaml", std::string(blendable) + "prices: p.csv\n")}),
        "leads back to itself");
  }

  TEST_CASE("a name without end is called too long, not a mistake in what surrounds it") {
    const Folder folder;
    const std::string name(3000, 'a');
    for (const std::string& text : {"leastwise: 1\nmaterials:\n  " + name + ": {price_per_t: 1}\n",
                                    "leastwise: 1\nmaterials: {" + name + ": {price_per_t: 1}}\n"})
      check_refused(run({"check", folder.write("long.yaml", text)}),
                    "a name must be at most 100 bytes long");
  }

  TEST_CASE("a stranger's scenario reads nothing outside its folder without leave") {
    const Folder folder;
    std::filesystem::create_directory(folder.path("inner"));
    folder.write("secret.csv", "material,price_per_t\nsecret,1\n");
    const std::string file =
        folder.write("inner/s.yaml", std::string(blendable) + "prices: ../secret.csv\n");
    const Ran refused = run({"check", file});
    CHECK(refused.exit_code == 1);
    CHECK(refused.err.find("--allow-outside") != std::string::npos);
    CHECK(run({"check", "--allow-outside", file}).err.find("outside-folder") == std::string::npos);
  }

  TEST_CASE("reading that takes longer than the time limit ends with exit code 3 and no report") {
    std::string many = "leastwise: 1\nmaterials:\n";
    for (int i = 0; i < 50'000; ++i)
      many += "  m" + std::to_string(i) +
              ": {form: granule, contains_percent: {N: 46}, price_per_t: 400}\n";
    many += "grade_percent: {N: {min: 20}}\n";
    const Folder folder;
    const std::string file = folder.write("many.yaml", many);
    for (const std::string command : {"check", "materials", "blend", "alternatives"}) {
      CAPTURE(command);
      for (const Run& asked :
           {Run{.arguments = {command, "--time-limit", "0.001", file}},
            Run{.arguments = {command, "--time-limit", "0.001", "-"}, .input = many}}) {
        const Ran ran = run(asked);
        CHECK(ran.exit_code == 3);
        CHECK(ran.out.empty());
        CHECK_MESSAGE(ran.err.find("time limit: stopped") != std::string::npos, ran.err);
      }
    }
  }

  TEST_CASE("check says all that is wrong with variants, as compare does") {
    const Folder folder;
    const std::string file =
        folder.write("s.yaml", std::string(blendable) +
                                   "variants:\n"
                                   "  one: {without: [no-such]}\n"
                                   "  two: {drop: [rate Xx min], prices: {nowhere: 3}}\n");
    const Ran checked = run({"check", file});
    const Ran compared = run({"compare", file});
    CHECK(checked.exit_code == 1);
    CHECK(checked.out.empty());
    for (const char* name : {"no-such", "rate Xx min", "nowhere"})
      CHECK_MESSAGE(checked.err.find(name) != std::string::npos, checked.err);
    CHECK(checked.err == compared.err);
  }

  TEST_CASE("a pipe that nobody writes to does not outlast the time limit") {
    const Folder folder;
    const std::string pipe = folder.path("pipe");
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    for (const std::string command : {"blend", "batch", "check"}) {
      CAPTURE(command);
      const Ran ran = run({command, "--time-limit", "0.05", pipe});
      CHECK(ran.exit_code == 3);
      CHECK_MESSAGE(ran.err.find("time limit: stopped") != std::string::npos, ran.err);
    }
  }

  TEST_CASE("a proof that repeats itself takes time by its length, and heeds the time limit") {
    const Folder folder;
    const std::string scenario = folder.write("s.yaml", blendable);
    const std::string file = folder.path("p.json");
    REQUIRE(run({"blend", "--proof", file, scenario}).exit_code == 0);
    std::string proof = folder.read("p.json");
    const std::string portions = "\"portions\": [";
    const std::size_t begin = proof.find(portions) + portions.size();
    const std::string first = proof.substr(begin, proof.find('}', begin) + 1 - begin);
    std::string many;
    for (int i = 0; i < 200'000; ++i) many += first + ",";
    proof.insert(begin, many);
    folder.write("p.json", proof);
    CHECK(run({"verify", file, scenario}).exit_code == 1);
    const Ran ran = run({"verify", "--time-limit", "0.01", file, scenario});
    CHECK(ran.exit_code == 3);
    CHECK_MESSAGE(ran.err.find("time limit: stopped") != std::string::npos, ran.err);
    std::string keys = "{\"k\": 1";
    for (int i = 0; i < 100'000; ++i) keys += ",\"k" + std::to_string(i) + "\": 1";
    folder.write("p.json", keys + "}");
    CHECK(run({"verify", file, scenario}).err.find("more keys") != std::string::npos);
  }

  TEST_CASE("a time limit that is not reached changes nothing") {
    const Folder folder;
    const std::string file = folder.write("s.yaml", blendable);
    for (const std::string command : {"check", "materials"}) {
      CAPTURE(command);
      const Ran free = run({command, file});
      const Ran limited = run({command, "--time-limit", "1e12", file});
      CHECK(free.exit_code == 0);
      CHECK(limited.exit_code == 0);
      CHECK(limited.out == free.out);
      CHECK(limited.err.empty());
    }
    CHECK(run({"materials", "--time-limit", "5"}).exit_code == 0);
    CHECK(run({"check", "--time-limit", "0", file}).exit_code == 64);
  }

  TEST_CASE(
      "a proof that was asked for and not made is exit code 3, and an older one is disowned") {
    const Folder folder;
    const std::string file = folder.write("s.yaml", blendable);
    const std::string proof = folder.path("p.json");
    const Ran none = run({"blend", "--time-limit", "1e-9", "--proof", proof, file});
    CHECK(none.exit_code == 3);
    CHECK(none.err.starts_with("leastwise: no proof was written: "));
    CHECK_FALSE(none.out.empty());
    CHECK(folder.names().size() == 1);
    folder.write("p.json", "older\n");
    const Ran again = run({"blend", "--time-limit", "1e-9", "--proof", proof, file});
    CHECK(again.exit_code == 3);
    CHECK(again.err.find("is older and does not belong to this report") != std::string::npos);
    CHECK(folder.read("p.json") == "older\n");
  }

  TEST_CASE("a pipe that a scenario names is refused, not waited for") {
    const Folder folder;
    REQUIRE(::mkfifo(folder.path("pipe").c_str(), 0600) == 0);
    std::string text(blendable);
    check_refused(run({"blend", folder.write("c.yaml", text + "catalogue: [pipe]\n")}),
                  "'pipe' is a pipe or a device, expected a file");
    check_refused(run({"check", folder.write("p.yaml", text + "prices: pipe\n")}),
                  "'pipe' is a pipe or a device, expected a file");
    std::filesystem::create_symlink("/dev/zero", folder.path("link"));
    check_refused(
        run({"check", "--allow-outside", folder.write("l.yaml", text + "prices: link\n")}),
        "'link' is a pipe or a device, expected a file");
  }

  TEST_CASE("a price next to nothing is nothing, in a file and on the command line") {
    const Folder folder;
    std::string text(blendable);
    text.replace(text.find("price_per_t: 460"), 16, "price_per_t: 0");
    const Ran free = run({"blend", folder.write("a.yaml", text)});  // reports name their file
    CHECK(free.exit_code == 0);
    for (const std::string& price :
         {std::string("1e-400"), std::string("1E-400"), "0." + std::string(400, '0') + "1"}) {
      CHECK(run({"blend", "--price", "urea=" + price, folder.write("a.yaml", blendable)}).out ==
            free.out);
      text = blendable;
      text.replace(text.find("price_per_t: 460"), 16, "price_per_t: " + price);
      CHECK(run({"blend", folder.write("a.yaml", text)}).out == free.out);
    }
    const std::string large = "1" + std::string(400, '0') + "e-5";
    text = blendable;
    text.replace(text.find("price_per_t: 460"), 16, "price_per_t: " + large);
    check_refused(run({"blend", folder.write("a.yaml", text)}), "it is too large");
    const Ran given = run({"blend", "--price", "urea=" + large, folder.write("a.yaml", blendable)});
    CHECK(given.exit_code == 64);
    CHECK(given.err.find("it is too large") != std::string::npos);
  }

  TEST_CASE("a check of a proof that may take no time proves nothing: exit code 3") {
    const Folder folder;
    const std::string file = folder.write("s.yaml", blendable);
    REQUIRE(run({"blend", "--proof", folder.path("p.json"), file}).exit_code == 0);
    const Ran free = run({"verify", folder.path("p.json"), file});
    CHECK(free.exit_code == 0);
    const Ran late = run({"verify", "--time-limit", "1e-9", folder.path("p.json"), file});
    CHECK(late.exit_code == 3);
    CHECK(late.out.starts_with("stopped: "));
    CHECK(late.err.empty());
    CHECK(run({"verify", "--time-limit", "60", folder.path("p.json"), file}).out == free.out);
  }

  TEST_CASE("too little memory is said in a line, and leaves an older report as it was") {
    const Folder folder;
    const std::string scenario = folder.write("s.yaml", blendable);
    const std::string report = folder.write("report.txt", "older\n");
    bool starved = false;
    for (std::size_t mebibytes = 16; mebibytes <= 96; mebibytes += 4) {
      const Ran ran = run(Run{.arguments = {"blend", scenario, "--output", report},
                              .most_memory_bytes = mebibytes << 20U});
      if (ran.exit_code == 0) break;
      CHECK(folder.read("report.txt") == "older\n");
      if (ran.exit_code == 70) {
        starved = true;
        CHECK_MESSAGE(ran.err.find("out of memory") != std::string::npos, ran.err);
      }
    }
    CHECK(folder.names().size() == 2);
    CHECK((starved || sanitized));
  }

  TEST_CASE("at no amount of memory does the tool crash") {
    if (sanitized) return;
    const Folder folder;
    const std::string scenario = folder.write("s.yaml", blendable);
    int enough = 0;
    int starved = 0;
    // Below this the initialisers of shared libraries fail, before the program begins.
    for (std::size_t kibibytes = 25 * 1024; enough < 4; kibibytes += 256) {
      CAPTURE(kibibytes);
      REQUIRE(kibibytes < 128 * 1024);
      const Ran ran =
          run(Run{.arguments = {"blend", scenario}, .most_memory_bytes = kibibytes << 10U});
      if (ran.exit_code == 127) continue;  // not even the program could be loaded
      CHECK_MESSAGE((ran.exit_code == 0 || ran.exit_code == 70), "exit code ", ran.exit_code);
      ++(ran.exit_code == 0 ? enough : starved);
    }
    CHECK(starved > 0);
  }
}
