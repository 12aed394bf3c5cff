#include "core/edit/journal.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <ctime>
#include <fstream>
#include <sstream>

#include "core/edit/disk.h"
#include "core/edit/journal_text.h"

namespace yw::edit {
namespace fs = std::filesystem;
namespace {

constexpr const char* kEnding = ".journal";
constexpr const char* kStarting = ".starting";

tl::unexpected<base::Error> cannotWrite(const fs::path& path, int error) {
  return base::fail(base::ErrorCode::CannotWrite,
                    {"journal_cannot_write", {{"path", path.string()}, {"reason", diskReason(error)}}});
}

bool hasEnding(const fs::path& path, const std::string& ending) {
  const std::string name = path.filename().string();
  return name.size() > ending.size() && name.ends_with(ending);
}

std::vector<fs::path> filesWithEnding(const fs::path& folder, const std::string& ending) {
  std::vector<fs::path> found;
  std::error_code ignored;
  for (fs::directory_iterator it(folder, ignored), end; it != end; it.increment(ignored))
    if (hasEnding(it->path(), ending)) found.push_back(it->path());
  std::sort(found.begin(), found.end());
  return found;
}

/// A journal is locked as long as its program lives; the kernel lets go when it dies, however it dies.
bool isHeldByLivingProgram(const fs::path& path) {
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return false;
  const bool held = ::flock(fd, LOCK_SH | LOCK_NB) != 0;
  ::close(fd);
  return held;
}

base::Result<std::string> readWhole(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  if (!in.is_open() || in.bad())
    return base::fail(base::ErrorCode::Unreadable, {"journal_unreadable", {{"path", path.string()}}});
  return std::move(bytes).str();
}

/// Process id in `yard-<pid>-<n>.starting`; 0 if it has none.
pid_t pidInName(const fs::path& path) {
  const std::string name = path.filename().string();
  const std::size_t dash = name.find('-');
  pid_t pid = 0;
  if (dash != std::string::npos) std::from_chars(name.data() + dash + 1, name.data() + name.size(), pid);
  return pid;
}

/// Removes what killed programs left that holds nothing to offer.
void sweep(const fs::path& folder) {
  std::error_code ignored;
  for (const fs::path& file : filesWithEnding(folder, kStarting)) {
    const pid_t pid = pidInName(file);
    if (pid > 0 && ::kill(pid, 0) != 0 && errno == ESRCH) fs::remove(file, ignored);
  }
  for (const fs::path& file : filesWithEnding(folder, kEnding)) {
    if (isHeldByLivingProgram(file)) continue;
    const auto bytes = readWhole(file);
    JournalContent content;
    if (bytes && readJournal(*bytes, content) && content.changes == 0) fs::remove(file, ignored);
  }
}

std::string localTime(const fs::path& path) {
  struct stat info {};
  struct tm t {};
  if (::stat(path.c_str(), &info) != 0 || ::localtime_r(&info.st_mtime, &t) == nullptr) return {};
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", t.tm_year + 1900, t.tm_mon + 1, t.tm_mday,
                     t.tm_hour, t.tm_min, t.tm_sec);
}

}  // namespace

struct Journal::State {
  fs::path path;
  int fd = -1;
  off_t size = 0;       ///< of the whole lines that are on the disk
  std::string pending;  ///< lines that could not be written; tried again first

  State() = default;
  State(const State&) = delete;
  State& operator=(const State&) = delete;
  ~State() {
    if (fd >= 0) ::close(fd);
  }

  base::Result<void> append(const std::string& lines) {
    pending += lines;
    if (fd < 0) return cannotWrite(path, EBADF);
    int error = writeAll(fd, pending);
    if (error == 0 && ::fdatasync(fd) != 0) error = errno;
    if (error != 0) {  // take the torn piece away, so that a later try stands on whole lines
      if (::ftruncate(fd, size) == 0) ::lseek(fd, size, SEEK_SET);
      return cannotWrite(path, error);
    }
    size += static_cast<off_t>(pending.size());
    pending.clear();
    return {};
  }
};

Journal::Journal(std::unique_ptr<State> state) : state_(std::move(state)) {}
Journal::Journal(Journal&&) noexcept = default;
Journal& Journal::operator=(Journal&&) noexcept = default;
Journal::~Journal() = default;

base::Result<Journal> Journal::start(const fs::path& folder, const fs::path& yardFile, const Yard& yard) {
  std::error_code failed;
  fs::create_directories(folder, failed);
  if (failed) return cannotWrite(folder, failed.value());
  sweep(folder);
  auto state = std::make_unique<State>();
  fs::path starting;
  for (int n = 1; state->fd < 0; ++n) {
    const std::string stem = fmt::format("yard-{}-{}", ::getpid(), n);
    state->path = folder / (stem + kEnding);
    starting = folder / (stem + kStarting);
    if (fs::exists(state->path, failed)) continue;
    state->fd = ::open(starting.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (state->fd < 0 && errno != EEXIST) return cannotWrite(starting, errno);
  }
  // Locked and whole before it gets the name under which others look for it.
  int error = ::flock(state->fd, LOCK_EX | LOCK_NB) == 0 ? 0 : errno;
  if (error == 0) {
    const auto begun = state->append(startLines(yardFile.string(), yard));
    if (!begun) {
      ::unlink(starting.c_str());
      return tl::unexpected(begun.error());
    }
    error = ::rename(starting.c_str(), state->path.c_str()) == 0 ? 0 : errno;
  }
  if (error != 0) {
    ::unlink(starting.c_str());
    return cannotWrite(state->path, error);
  }
  flushFolder(folder);
  return Journal(std::move(state));
}

base::Result<void> Journal::append(const Change& change) { return state_->append(changeLine(change)); }

base::Result<void> Journal::appendBlob(const std::string& key, const std::string& bytes) {
  return state_->append(blobLine(key, bytes));
}

base::Result<void> Journal::reset(const fs::path& yardFile, const Yard& yard) {
  auto fresh = start(state_->path.parent_path(), yardFile, yard);
  if (!fresh) return tl::unexpected(fresh.error());  // the old one goes on and still tells the truth
  discard();
  state_ = std::move(fresh->state_);
  return {};
}

void Journal::discard() {
  if (state_ == nullptr || state_->fd < 0) return;
  ::unlink(state_->path.c_str());
  ::close(state_->fd);
  state_->fd = -1;
}

const fs::path& Journal::file() const { return state_->path; }

std::vector<LeftJournal> leftJournals(const fs::path& folder) {
  std::vector<LeftJournal> left;
  for (const fs::path& file : filesWithEnding(folder, kEnding)) {
    if (isHeldByLivingProgram(file)) continue;
    const auto bytes = readWhole(file);
    if (!bytes) continue;
    JournalContent content;
    const auto read = readJournal(*bytes, content);
    // A damaged one is listed too, not hidden: recover() says what is wrong with it.
    if (content.changes == 0 && (read || !content.started)) continue;
    left.push_back({file, content.yardFile, yard::site(content.yard).name, content.changes,
                    content.lastChange, localTime(file)});
  }
  return left;
}

base::Result<Yard> recover(const fs::path& journal) {
  const auto bytes = readWhole(journal);
  if (!bytes) return tl::unexpected(bytes.error());
  JournalContent content;
  if (const auto read = readJournal(*bytes, content); !read)
    return base::fail(read.error().code, read.error().message, journal.string() + ", " + read.error().where);
  if (!content.started)
    return base::fail(base::ErrorCode::Unreadable, {"journal_not_started", {{"path", journal.string()}}});
  return std::move(content.yard);
}

}  // namespace yw::edit
