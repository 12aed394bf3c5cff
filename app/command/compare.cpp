#include "core/papers/compare.h"
#include "app/command/command.h"
#include "core/file/ideas_in_file.h"

namespace yw::command {

namespace {

struct Options {
  std::string file, other;
  std::vector<std::string> ideas;
  bool json = false, tsv = false;
};

papers::Side sideOf(std::string name, const yard::Yard& yard) {
  auto assessment = assess::assess(yard);
  auto report = std::make_shared<const findings::Report>(findings::report(*assessment));
  return {std::move(name), std::move(assessment), std::move(report)};
}

std::string nameOf(const yard::Yard& yard, const std::string& path) {
  const std::string& name = yard::site(yard).name;
  return name.empty() ? path : name;
}

/// The yard with an idea shown (none: the yard itself).
base::Result<yard::Yard> shown(const yard::Yard& yard, base::Id idea) {
  const auto change = file::wholeOrRefused(yard, edit::showIdea(yard, idea), idea);
  if (!change) return tl::unexpected(change.error());
  return edit::apply(yard, *change);
}

base::Error noIdea(const yard::Yard& yard, const std::string& name) {
  std::string names;
  for (const auto& [id, idea] : yard::all<yard::Idea>(yard))
    names += (names.empty() ? "" : ", ") + idea->name;
  if (names.empty()) return {base::ErrorCode::BadInput, {"idea_none_there", {}}, {}};
  return {base::ErrorCode::BadInput, {"idea_no_such", {{"name", name}, {"names", names}}}, {}};
}

/// The yard itself, then its ideas: those that were named, or all.
base::Result<std::vector<papers::Side>> ideasOf(const yard::Yard& yard,
                                                const std::vector<std::string>& names) {
  std::vector<base::Id> ids;
  for (const std::string& name : names) {
    ids.push_back(edit::ideaNamed(yard, name));
    if (!ids.back()) return tl::unexpected(noIdea(yard, name));
  }
  if (names.empty())
    for (const auto& [id, idea] : yard::all<yard::Idea>(yard)) ids.push_back(id);
  if (ids.empty()) return tl::unexpected(noIdea(yard, {}));
  ids.insert(ids.begin(), base::Id{});
  std::vector<papers::Side> sides;
  for (const base::Id id : ids) {
    const auto one = shown(yard, id);
    if (!one) return tl::unexpected(one.error());
    sides.push_back(sideOf(
        id ? yard::find<yard::Idea>(yard, id)->name : base::text(base::Message{"idea_the_yard", {}}), *one));
  }
  return sides;
}

base::Result<std::vector<papers::Side>> sidesOf(const Options& options) {
  const auto yard = readYard(options.file);
  if (!yard) return tl::unexpected(yard.error());
  if (options.other.empty()) return ideasOf(*yard, options.ideas);
  const auto other = readYard(options.other);
  if (!other) return tl::unexpected(other.error());
  std::string first = nameOf(*yard, options.file), second = nameOf(*other, options.other);
  if (first == second) first = options.file, second = options.other;
  return std::vector<papers::Side>{sideOf(first, *yard), sideOf(second, *other)};
}

}  // namespace

std::function<int()> defineCompare(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("FILE", options->file, "The yard; - reads the standard input")->required();
  CLI::Option* other =
      app.add_option("OTHER", options->other, "Another yard file; without it the ideas in FILE are compared");
  app.add_option("--idea", options->ideas, "Only this idea; may be given several times")
      ->excludes(other)
      ->allow_extra_args(false);
  CLI::Option* json =
      app.add_flag("--json", options->json, "For a program: format yardwright-compare, version 1");
  app.add_flag("--tsv", options->tsv, "The figures side by side, tab-separated")->excludes(json);
  return [options] {
    const auto sides = sidesOf(*options);
    if (!sides) return complain(sides.error());
    return writeOut("-", options->json  ? papers::compareJson(*sides)
                         : options->tsv ? papers::tsv(papers::sideBySide(*sides))
                                        : papers::compareText(*sides));
  };
}

}  // namespace yw::command
