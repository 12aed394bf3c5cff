// The command as scripts use it: streams, exit codes, the same bytes everywhere, clear words for bad input.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

namespace {

namespace fs = std::filesystem;

struct Ran {
  int code = -1;
  std::string out, err;
};

class Command : public testing::Test {
 protected:
  Command() {
    char name[] = "/tmp/yardwright command ü XXXXXX";  // a space and a letter beyond ASCII on purpose
    folder_ = mkdtemp(name);
  }
  ~Command() override { fs::remove_all(folder_); }

  static std::string read(const fs::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
  }
  fs::path write(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
    return folder_ / name;
  }
  Ran run(const std::string& words, const std::string& before = {}) const {
    const std::string line = before + " '" YARDWRIGHT_COMMAND "' " + words + " >'" +
                             (folder_ / "out").string() + "' 2>'" + (folder_ / "err").string() + "'";
    const int status = std::system(line.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), read(folder_ / "out"),
            read(folder_ / "err")};
  }
  static std::string quoted(const fs::path& path) { return "'" + path.string() + "'"; }
  static std::string sample(const char* name) {
    return "'" YARDWRIGHT_ROOT "/sample-yards/" + std::string(name) + "'";
  }
  /// A sample yard without runs, and so without addresses, and without cables: bare props and boxes.
  static std::string bareSample(const std::string& name) {
    auto yard = nlohmann::ordered_json::parse(read(fs::path(YARDWRIGHT_ROOT) / "sample-yards" / name));
    auto& records = yard.at("records");
    for (std::size_t i = records.size(); i-- > 0;)
      if (records[i].at("kind") == "run" || records[i].at("kind") == "cable") records.erase(i);
    return yard.dump();
  }
  fs::path folder_;
};

TEST_F(Command, HelpAndVersionGoToTheStandardOutput) {
  for (const char* words : {"--help", "-h", "--version", "check --help"}) {
    const Ran r = run(words);
    EXPECT_EQ(r.code, 0) << words;
    EXPECT_FALSE(r.out.empty()) << words;
    EXPECT_TRUE(r.err.empty()) << r.err;
  }
}

TEST_F(Command, WrongUseExitsTwoAndSuggestsTheNearMiss) {
  const Ran r = run("chek x.yard");
  EXPECT_EQ(r.code, 2);
  EXPECT_TRUE(r.out.empty());
  EXPECT_NE(r.err.find("'check'"), std::string::npos) << r.err;
  EXPECT_EQ(run("").code, 2);
  EXPECT_EQ(run("check --nonsense " + sample("porch-and-lawn.yard")).code, 2);
}

TEST_F(Command, CheckExitsOneForFaultsAndZeroForAnEmptyYard) {
  EXPECT_EQ(run("check " + sample("porch-and-lawn.yard")).code, 1);
  const fs::path yard = folder_ / "empty yard.yard";
  EXPECT_EQ(run("new --to " + quoted(yard)).code, 0);
  EXPECT_EQ(run("check " + quoted(yard)).code, 0);
  EXPECT_EQ(run("new --to " + quoted(yard)).code, 4) << "a file that is there is left alone";
}

TEST_F(Command, JsonIsJsonAndNothingElseIsOnItsStream) {
  for (const std::string& words : {"check --json " + sample("corner-lot.yard"), std::string("shapes --json"),
                                   "export --what tables " + sample("corner-lot.yard")}) {
    const Ran r = run(words);
    const auto json = nlohmann::json::parse(r.out, nullptr, false);
    ASSERT_FALSE(json.is_discarded()) << words;
    EXPECT_EQ(json.at("version"), 1) << words;
  }
}

TEST_F(Command, AnIdeaIsPlannedInComparedAndLeavesTheYardAlone) {
  const fs::path yard = folder_ / "porch.yard", idea = folder_ / "idea.yard",
                 planned = folder_ / "planned.yard";
  fs::copy_file(fs::path(YARDWRIGHT_ROOT) / "sample-yards/porch-and-lawn.yard", yard);
  EXPECT_EQ(run("compare " + quoted(yard)).code, 2) << "there is no idea yet";
  ASSERT_EQ(run("ideas " + quoted(yard) + " --make 'More feeds' --to " + quoted(idea)).code, 0);
  const Ran list = run("ideas " + quoted(idea));
  EXPECT_NE(list.out.find("* More feeds"), std::string::npos) << list.out;
  ASSERT_EQ(run("propose --feeds " + quoted(idea) + " --to " + quoted(planned)).code, 0);
  const Ran r = run("compare --json " + quoted(planned) + " --idea 'More feeds'");
  ASSERT_EQ(r.code, 0) << r.err;
  const auto json = nlohmann::json::parse(r.out, nullptr, false);
  ASSERT_FALSE(json.is_discarded());
  EXPECT_EQ(json.at("format"), "yardwright-compare");
  const auto &before = json.at("sides").at(0).at("figures"), &after = json.at("sides").at(1).at("figures");
  EXPECT_LT(before.at("feeds"), after.at("feeds"));
  EXPECT_LT(before.at("lowest_volts"), after.at("lowest_volts"));
  EXPECT_LT(after.at("wont_work"), before.at("wont_work"));
  // The same figures as a check of each tells.
  const auto checked = nlohmann::json::parse(run("check --json " + quoted(yard)).out);
  EXPECT_EQ(checked.at("counts").at("wont_work"), before.at("wont_work"));
  EXPECT_FALSE(json.at("differences").at(0).at("rows").empty());
  EXPECT_NE(run("compare " + quoted(planned)).out.find("only in More feeds"), std::string::npos);
  // Back to the yard and without the idea it is the file it was, but for the counter of ids.
  const fs::path back = folder_ / "back.yard";
  ASSERT_EQ(run("ideas " + quoted(planned) + " --drop 'More feeds' --to " + quoted(back)).code, 0);
  const Ran same = run("compare " + quoted(yard) + " " + quoted(back));
  EXPECT_EQ(same.code, 0) << same.err;
  EXPECT_NE(same.out.find("Nothing."), std::string::npos) << same.out;
  EXPECT_EQ(run("compare " + quoted(planned) + " --idea Nonsense").code, 2);
}

TEST_F(Command, ProposeWritesAYardThatChecksBetterAndSaysWhy) {
  const fs::path planned = folder_ / "planned.yard";
  const Ran r = run("propose --feeds " + sample("porch-and-lawn.yard") + " --to " + quoted(planned));
  EXPECT_EQ(r.code, 0) << r.err;
  EXPECT_NE(r.out.find("Feeds: "), std::string::npos) << r.out;
  const auto worse = nlohmann::json::parse(run("check --json " + sample("porch-and-lawn.yard")).out);
  const std::string after = run("check --json " + quoted(planned)).out;
  EXPECT_NE(worse.dump().find("low_volts"), std::string::npos);
  EXPECT_EQ(after.find("low_volts"), std::string::npos) << after;
  const Ran json = run("propose --feeds --json " + sample("porch-and-lawn.yard"));
  const auto parsed = nlohmann::json::parse(json.out, nullptr, false);
  ASSERT_FALSE(parsed.is_discarded());
  EXPECT_EQ(parsed.at("version"), 1);
  EXPECT_EQ(json.out,
            run("propose --feeds --json " + sample("porch-and-lawn.yard"), "LC_ALL=de_DE.UTF-8").out);
  EXPECT_EQ(run("propose --feeds " + sample("porch-and-lawn.yard") + " --to -").out, read(planned));
  EXPECT_EQ(run("propose /nowhere/none.yard").code, 3);
}

/// A sample yard is planned from bare by one command and then checked; the largest one in tests/outside.
class PlannedFromBare : public Command, public testing::WithParamInterface<const char*> {};

TEST_P(PlannedFromBare, HasNoDangerNothingThatWontWorkAndNothingThatCannotBeMet) {
  const std::string name = GetParam();
  const fs::path planned = folder_ / "planned.yard";
  const Ran r =
      run("propose --all " + quoted(write("bare.yard", bareSample(name))) + " --to " + quoted(planned));
  EXPECT_EQ(r.code, 0) << name << r.out << r.err;
  const Ran checked = run("check --json " + quoted(planned));
  EXPECT_EQ(checked.code, 0) << name;
  const auto report = nlohmann::json::parse(checked.out, nullptr, false);
  ASSERT_FALSE(report.is_discarded()) << name;
  int looked = 0;
  for (const auto& finding : report.at("findings")) {
    ++looked;
    EXPECT_NE(finding.at("severity"), "Danger") << name << finding.dump();
    EXPECT_NE(finding.at("severity"), "Won't work") << name << finding.dump();
  }
  EXPECT_GT(looked, 0);
  // Every pixel of what is shown this year hangs on a port.
  const auto before = nlohmann::json::parse(read(planned), nullptr, false);
  std::set<std::int64_t> strung;
  for (const auto& record : before.at("records"))
    if (record.at("kind") == "run")
      for (const auto& item : record.at("items"))
        if (item.contains("prop")) strung.insert(item.at("prop").get<std::int64_t>());
  int props = 0;
  for (const auto& record : before.at("records"))
    if (record.at("kind") == "prop" && record.at("status") != "idea" &&
        record.at("status") != "not_this_year") {
      ++props;
      EXPECT_TRUE(strung.contains(record.at("id").get<std::int64_t>())) << record.dump();
    }
  EXPECT_GT(props, 5);
}

INSTANTIATE_TEST_SUITE_P(Samples, PlannedFromBare,
                         testing::Values("porch-and-lawn.yard", "corner-lot.yard", "every-prop.yard"));

TEST_F(Command, ProposeLeavesAStepOutByName) {
  const fs::path bare = write("bare.yard", bareSample("porch-and-lawn.yard")),
                 planned = folder_ / "some.yard";
  const auto all = nlohmann::json::parse(run("propose --json " + quoted(bare)).out, nullptr, false);
  ASSERT_FALSE(all.is_discarded());
  std::string port;
  std::size_t ports = 0;
  for (const auto& part : all.at("parts"))
    if (part.at("part") == "ports")
      for (const auto& step : part.at("steps"))
        if (step.at("key") == "plan_port") port = step.at("label"), ++ports;
  ASSERT_GT(ports, 1u);
  const std::string without = " --without ports:" + port;
  const Ran r = run("propose --json" + without + " " + quoted(bare));
  const auto some = nlohmann::json::parse(r.out, nullptr, false);
  ASSERT_FALSE(some.is_discarded()) << r.out << r.err;
  for (const auto& part : some.at("parts")) {
    if (part.at("part") != "ports") continue;
    ASSERT_FALSE(part.at("left_out").empty());
    EXPECT_EQ(part.at("left_out")[0].at("label"), port);
    for (const auto& step : part.at("steps")) EXPECT_NE(step.at("label"), port) << step.dump();
  }
  EXPECT_EQ(run("propose" + without + " " + quoted(bare) + " --to " + quoted(planned)).code, 0);
  EXPECT_EQ(run("check " + quoted(planned)).code, 0);
  const Ran unknown = run("propose --without ports:K9-P99 " + quoted(bare));
  EXPECT_EQ(unknown.code, 2);
  EXPECT_NE(unknown.err.find(port), std::string::npos) << unknown.err;
  EXPECT_EQ(run("propose --without K1-P01 " + quoted(bare)).code, 2) << "names no part";
}

TEST_F(Command, ProposeTellsWhatEachBrightnessCosts) {
  const Ran r = run("propose --trade-off brightness --json " + sample("porch-and-lawn.yard"));
  EXPECT_EQ(r.code, 0) << r.err;
  const auto json = nlohmann::json::parse(r.out, nullptr, false);
  ASSERT_FALSE(json.is_discarded()) << r.out;
  ASSERT_GE(json.at("rows").size(), 7u);
  EXPECT_LT(json["rows"][0].at("amps"), json["rows"][1].at("amps"));
}

TEST_F(Command, ProposeNamesTheNearestPropWhereOneIsMisspelled) {
  const Ran r = run("propose --trade-off volts --prop Starr " + sample("porch-and-lawn.yard"));
  EXPECT_EQ(r.code, 2);
  EXPECT_NE(r.err.find("Starr"), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("Did you mean Star?"), std::string::npos) << r.err;
  EXPECT_EQ(run("propose --trade-off length " + sample("porch-and-lawn.yard")).code, 2);
  EXPECT_EQ(run("propose --prop Star " + sample("porch-and-lawn.yard")).code, 2) << "of no trade-off";
}

TEST_F(Command, RefusesACountBelowOneInPlainWords) {
  const Ran r = run("shapes --kind ring --fit-pixels -5");
  EXPECT_EQ(r.code, 2);
  EXPECT_NE(r.err.find("-5"), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("10000000"), std::string::npos) << r.err;
  EXPECT_LT(r.err.size(), 200u) << r.err;
  EXPECT_EQ(r.err.find("Did you mean"), std::string::npos) << r.err;
}

TEST_F(Command, PrintsNoEscapes) {
  EXPECT_EQ(run("check " + sample("porch-and-lawn.yard")).out.find('\x1b'), std::string::npos);
}

TEST_F(Command, ReadsTheStandardInput) {
  const Ran piped = run("check -", "cat " + sample("porch-and-lawn.yard") + " |");
  EXPECT_EQ(piped.out, run("check " + sample("porch-and-lawn.yard")).out);
}

TEST_F(Command, GivesTheSameBytesInAnyTimeZoneAndLocale) {
  const Ran plain = run("check --json " + sample("corner-lot.yard"), "LC_ALL=C TZ=UTC");
  const Ran other = run("check --json " + sample("corner-lot.yard"), "LC_ALL=de_DE.UTF-8 TZ=Asia/Kolkata");
  EXPECT_EQ(plain.out, other.out);
}

TEST_F(Command, PapersWritesPdfAndTablesTwiceAlike) {
  for (const char* to : {"a", "b"}) {
    const Ran r = run("papers " + sample("porch-and-lawn.yard") + " --to " + quoted(folder_ / to));
    ASSERT_EQ(r.code, 0) << r.err;
  }
  for (const char* name : {"sheets.pdf", "lead_cut_list.csv", "tables.json"}) {
    ASSERT_TRUE(fs::exists(folder_ / "a" / name)) << name;
    EXPECT_EQ(read(folder_ / "a" / name), read(folder_ / "b" / name)) << name;
  }
  EXPECT_EQ(run("papers " + sample("porch-and-lawn.yard") + " --paper a4 --format pdf --to " +
                quoted(folder_ / "c"))
                .code,
            0);
  EXPECT_EQ(std::system(
                ("pdfinfo " + quoted(folder_ / "c" / "sheets.pdf") + " | grep -q '595.* x 84[12]'").c_str()),
            0);
}

TEST_F(Command, SaysWhatIsWrongWithAFileThatCannotBeRead) {
  const std::string whole = read(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard");
  const std::pair<const char*, std::string> bad[] = {
      {"empty.yard", ""},
      {"truncated.yard", whole.substr(0, whole.size() / 2)},
      {"newer.yard", "{\"format\":\"yardwright\",\"version\":99,\"next_id\":1,\"records\":[],\"blobs\":{}}"},
      {"other.yard", "not a yard at all"},
      {"ünïcode name.yard", whole.substr(0, 200)}};
  for (const auto& [name, bytes] : bad) {
    const Ran r = run("check " + quoted(write(name, bytes)));
    EXPECT_EQ(r.code, 3) << name;
    EXPECT_TRUE(r.out.empty()) << name;
    EXPECT_GT(r.err.size(), 30U) << name << ": " << r.err;
    EXPECT_EQ(r.err.find('['), std::string::npos) << r.err;
  }
  EXPECT_EQ(run("check /nowhere/none.yard").code, 3);
}

TEST_F(Command, CannotWriteExitsFourAndNamesThePlace) {
  const Ran r = run("papers " + sample("porch-and-lawn.yard") + " --to /proc/nowhere");
  EXPECT_EQ(r.code, 4);
  EXPECT_NE(r.err.find("/proc/nowhere"), std::string::npos) << r.err;
}

// Ten million pixels, none, and a size below zero are findings with words, not crashes.
TEST_F(Command, ImpossibleSizesAreFindings) {
  const std::string whole = read(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard");
  const std::size_t ring = whole.find("\"name\":\"Little tree\"");
  ASSERT_NE(ring, std::string::npos);
  const std::size_t at = whole.find("\"pitch\":", ring);
  ASSERT_NE(at, std::string::npos);
  for (const char* pitch : {"1000", "90000000000000", "-5", "0"}) {
    const std::size_t end = whole.find_first_of(",}", at);
    const std::string bytes = whole.substr(0, at) + "\"pitch\":" + pitch + whole.substr(end);
    const Ran r = run("check " + quoted(write("sizes.yard", bytes)));
    EXPECT_EQ(r.code, 1) << pitch << " " << r.err;
    EXPECT_NE(r.out.find("Little tree cannot be computed"), std::string::npos) << pitch;
  }
}

TEST_F(Command, BringsAnOwnShapeFromAFileIntoAYard) {
  const fs::path table = write("fish.csv", "x,y\n0,0\n10,10\n10,0\n0,10\n");
  const fs::path yard = folder_ / "own.yard";
  ASSERT_EQ(run("new --to " + quoted(yard)).code, 0);
  const std::string words = "shapes --from " + quoted(table) + " --unit cm --name Fish --metric";
  const Ran drawn = run(words);
  EXPECT_EQ(drawn.code, 0) << drawn.err;
  EXPECT_NE(drawn.out.find("4 pixels"), std::string::npos) << drawn.out;
  EXPECT_NE(drawn.out.find("0.10 m wide"), std::string::npos) << drawn.out;
  EXPECT_EQ(run(words + " --short-order --into " + quoted(yard)).code, 0);
  EXPECT_NE(read(yard).find("\"string_order\":[1,"), std::string::npos);
  EXPECT_NE(read(yard).find("\"name\":\"Fish\""), std::string::npos);
  const std::string before = read(yard);
  const Ran bad =
      run("shapes --from " + quoted(write("bad.csv", "0,0\n1,zwei\n")) + " --into " + quoted(yard));
  EXPECT_NE(bad.code, 0);
  EXPECT_NE(bad.err.find("2"), std::string::npos) << bad.err;
  EXPECT_EQ(read(yard), before);
}

TEST_F(Command, KeepsAPropAndPutsItIntoTheNextYard) {
  const std::string home = "XDG_DATA_HOME=" + quoted(folder_ / "data");
  const fs::path next = folder_ / "next.yard";
  ASSERT_EQ(run("new --to " + quoted(next)).code, 0);
  EXPECT_EQ(run("shapes --put Star --into " + quoted(next), home).code, 2) << "nothing is kept yet";
  const Ran kept = run("shapes --keep Star --yard " + sample("porch-and-lawn.yard"), home);
  EXPECT_EQ(kept.code, 0) << kept.err;
  const Ran listed = run("shapes --mine", home);
  EXPECT_EQ(listed.out.rfind("Star: Star, ", 0), 0u) << listed.out;
  EXPECT_EQ(run("shapes --put Star --into " + quoted(next), home).code, 0);
  EXPECT_NE(read(next).find("\"name\":\"Star\""), std::string::npos);
  EXPECT_EQ(run("check " + quoted(next)).code, 0) << "unwired is no fault";
  EXPECT_EQ(run("shapes --keep Nobody --yard " + sample("porch-and-lawn.yard"), home).code, 2);
}

TEST_F(Command, TakesLastYearsListInAndSaysWhichRowsAreLeftOut) {
  const fs::path yard = folder_ / "this year.yard", out = folder_ / "out.yard";
  ASSERT_EQ(run("new --to " + quoted(yard)).code, 0);
  const fs::path good = write("list.csv", "Name;Type;Nodes\nArch A;arch;50\nTree;cone tree;300\n");
  const Ran taken = run("propose " + quoted(yard) + " --list " + quoted(good) + " --to " + quoted(out));
  EXPECT_EQ(taken.code, 0) << taken.err;
  EXPECT_EQ(taken.out.rfind("2 props, ", 0), 0u) << taken.out;
  EXPECT_EQ(run("check " + quoted(out)).code, 0);
  const fs::path bad = write("bad.csv", "a,b\nArch A,arch\nMoon,blimp\n");
  EXPECT_EQ(run("propose " + quoted(yard) + " --list " + quoted(bad)).code, 2) << "no column names the prop";
  const Ran some =
      run("propose " + quoted(yard) + " --columns prop,kind --list " + quoted(bad) + " --to " + quoted(out));
  EXPECT_EQ(some.code, 1);
  EXPECT_NE(some.out.find("Line 3: "), std::string::npos) << some.out;
  EXPECT_EQ(run("propose " + quoted(yard) + " --columns prop,sort --list " + quoted(bad)).code, 2);
  EXPECT_EQ(run("propose " + quoted(yard) + " --list nowhere.csv").code, 3);
}

TEST_F(Command, NewTakesOutlinesFromAMapAndSaysWhatItTook) {
  const fs::path map = write("map.geojson", R"({"type":"FeatureCollection","features":[
    {"type":"Feature","properties":{"layer":"building"},"geometry":{"type":"Polygon","coordinates":
      [[[10,45],[10.0001,45],[10.0001,45.0001],[10,45.0001],[10,45]]]}},
    {"type":"Feature","properties":{"layer":"odd"},"geometry":{"type":"LineString","coordinates":
      [[10,45],[10.0002,45]]}}]})");
  const Ran ran = run("new --outline '" + map.string() + "' --outline-kind odd=fence");
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_NE(ran.err.find("2 outlines taken: 1 House, 1 Fence"), std::string::npos) << ran.err;
  const auto yard = nlohmann::json::parse(ran.out);
  int houses = 0, fences = 0, walls = 0;
  for (const auto& record : yard["records"]) {
    houses += record.value("feature", nlohmann::json()) == "house";
    fences += record.value("feature", nlohmann::json()) == "fence";
    walls += record["kind"] == "wall";
  }
  EXPECT_EQ(houses, 1);
  EXPECT_EQ(fences, 1);
  EXPECT_EQ(walls, 4);
  const Ran unknown = run("new --outline '" + map.string() + "' --outline-kind roof=house");
  EXPECT_EQ(unknown.code, 2);
  EXPECT_NE(unknown.err.find("building, odd"), std::string::npos) << unknown.err;
  EXPECT_EQ(run("new --outline '" + write("bad.geojson", "{").string() + "'").code, 3);
}

}  // namespace
