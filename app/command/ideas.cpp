#include "app/command/command.h"
#include "core/file/ideas_in_file.h"
#include "core/file/yard_file.h"

namespace yw::command {

namespace {

struct Options {
  std::string file, to, make, show, rename, as, drop, adopt, keep;
  bool showYard = false;
};

edit::OnClash onClash(const std::string& keep) {
  if (keep == "yards") return edit::OnClash::KeepYards;
  return keep == "ideas" ? edit::OnClash::KeepIdeas : edit::OnClash::Refuse;
}

base::Result<base::Id> named(const yard::Yard& yard, const std::string& name) {
  if (const base::Id id = edit::ideaNamed(yard, name)) return id;
  std::string names;
  for (const auto& [id, idea] : yard::all<yard::Idea>(yard))
    names += (names.empty() ? "" : ", ") + idea->name;
  if (names.empty()) return base::fail(base::ErrorCode::BadInput, {"idea_not_there", {}});
  return base::fail(base::ErrorCode::BadInput, {"idea_no_such", {{"name", name}, {"names", names}}});
}

/// One line an idea: whether it is shown, its name, how many records it has otherwise.
std::string listed(const yard::Yard& yard) {
  const auto line = [](bool shown, base::Message message) {
    return (shown ? "* " : "  ") + base::text(message) + "\n";
  };
  std::string out = line(!edit::shownIdea(yard), {"idea_the_yard", {}});
  for (const auto& [id, idea] : yard::all<yard::Idea>(yard))
    out += line(
        idea->active,
        {"idea_line", {{"name", idea->name}, {"count", static_cast<std::int64_t>(idea->changes.size())}}});
  return out;
}

base::Result<edit::Change> asked(const Options& o, const yard::Yard& yard) {
  if (!o.make.empty()) return edit::makeIdea(yard, o.make);
  if (o.showYard) return edit::showIdea(yard, {});
  const std::string& name = !o.show.empty()     ? o.show
                            : !o.rename.empty() ? o.rename
                            : !o.drop.empty()   ? o.drop
                                                : o.adopt;
  const auto id = named(yard, name);
  if (!id) return tl::unexpected(id.error());
  if (!o.show.empty()) return file::wholeOrRefused(yard, edit::showIdea(yard, *id, onClash(o.keep)), *id);
  if (!o.rename.empty()) return edit::renameIdea(yard, *id, o.as);
  if (!o.drop.empty()) return edit::dropIdea(yard, *id);
  return file::wholeOrRefused(yard, edit::adoptIdea(yard, *id, onClash(o.keep)), *id);
}

int runIdeas(const Options& o) {
  const auto yard = readYard(o.file);
  if (!yard) return complain(yard.error());
  if (o.make.empty() && o.show.empty() && o.rename.empty() && o.drop.empty() && o.adopt.empty() &&
      !o.showYard)
    return writeOut("-", listed(*yard));
  const auto change = asked(o, *yard);
  if (!change) return complain(change.error());
  const yard::Yard after = edit::apply(*yard, *change);
  const int written = writeOut(o.to, file::bytesOf(after));
  return written != kClean || o.to == "-" ? written : writeOut("-", listed(after));
}

}  // namespace

std::function<int()> defineIdeas(CLI::App& app) {
  auto o = std::make_shared<Options>();
  app.add_option("FILE", o->file, "The yard; - reads the standard input")->required();
  CLI::Option* to = app.add_option("-o,--to", o->to, "Where to write the yard; - is the standard output");
  auto* group = app.add_option_group("What to do", "One of these; without any the ideas are listed");
  group->add_option("--make", o->make, "A new idea that begins as what is shown, and is shown")->needs(to);
  group->add_option("--show", o->show, "Show this idea")->needs(to);
  group->add_flag("--show-yard", o->showYard, "Show the yard itself")->needs(to);
  CLI::Option* rename =
      group->add_option("--rename", o->rename, "Give this idea the name of --as")->needs(to);
  group->add_option("--drop", o->drop, "Take this idea out")->needs(to);
  group->add_option("--adopt", o->adopt, "Make this idea the yard")->needs(to);
  group->require_option(0, 1);
  CLI::Option* as = app.add_option("--as", o->as, "The new name")->needs(rename);
  rename->needs(as);
  app.add_option("--keep", o->keep,
                 "Where the yard and the idea both changed the same thing: keep the yards or the ideas; else "
                 "it is refused and told")
      ->check(CLI::IsMember({"yards", "ideas"}));
  return [o] { return runIdeas(*o); };
}

}  // namespace yw::command
