#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>

#include "core/edit/disk.h"
#include "core/file/yard_file.h"

namespace yw::file {
namespace fs = std::filesystem;
namespace {

tl::unexpected<base::Error> cannotWrite(const fs::path& path, int error) {
  return base::fail(base::ErrorCode::CannotWrite,
                    {"file_cannot_write", {{"path", path.string()}, {"reason", edit::diskReason(error)}}});
}

/// Follows links to the file they mean, also where that file is not there yet. Empty: they go round in a
/// circle.
fs::path target(fs::path path) {
  std::error_code failed;
  for (int links = 0; links < 40; ++links) {
    if (!fs::is_symlink(fs::symlink_status(path, failed))) return path;
    const fs::path next = fs::read_symlink(path, failed);
    if (failed) return path;
    path = next.is_absolute() ? next : path.parent_path() / next;
  }
  return {};
}

/// A file under a name of its own in `folder`, open for writing; removed again unless it took its name.
class Aside {
 public:
  Aside(const fs::path& folder, mode_t mode) {
    errno = EEXIST;
    for (int n = 1; fd_ < 0 && errno == EEXIST; ++n) {
      path_ = folder / fmt::format(".yardwright-{}-{}.tmp", ::getpid(), n);
      fd_ = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    }
    error_ = fd_ < 0 ? errno : 0;
    there_ = fd_ >= 0;
  }
  Aside(const Aside&) = delete;
  Aside& operator=(const Aside&) = delete;
  ~Aside() {
    if (fd_ >= 0) ::close(fd_);
    if (there_) ::unlink(path_.c_str());
  }
  int error() const { return error_; }

  /// Owner and permissions of the old file. Not being its owner is no reason not to save.
  void takeAfter(const struct stat& old) {
    if (error_ != 0) return;
    const bool owned = ::fchown(fd_, old.st_uid, old.st_gid) == 0;
    const mode_t mode = old.st_mode & (owned ? 07777 : 0777);
    if (::fchmod(fd_, mode) != 0 && errno != EPERM) error_ = errno;
  }
  /// Writes all, flushes, closes and takes the name. The error number, or 0.
  int writeAs(const fs::path& name, const std::string& bytes) {
    if (error_ != 0) return error_;
    error_ = edit::writeAll(fd_, bytes);
    if (error_ == 0 && ::fsync(fd_) != 0) error_ = errno;
    if (::close(fd_) != 0 && error_ == 0) error_ = errno;
    fd_ = -1;
    if (error_ == 0 && ::rename(path_.c_str(), name.c_str()) != 0) error_ = errno;
    there_ = error_ != 0;
    return error_;
  }

 private:
  fs::path path_;
  int fd_ = -1, error_ = 0;
  bool there_ = false;
};

/// Pipes and devices have no old content to keep and must not be replaced.
int writeStraight(const fs::path& path, const std::string& bytes) {
  const int fd = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (fd < 0) return errno;
  const int error = edit::writeAll(fd, bytes);
  return ::close(fd) != 0 && error == 0 ? errno : error;
}

}  // namespace

base::Result<void> writeWhole(const fs::path& path, const std::string& bytes) {
  const fs::path file = target(path);
  if (file.empty()) return cannotWrite(path, ELOOP);
  struct stat old {};
  const bool exists = ::stat(file.c_str(), &old) == 0;
  if (exists && S_ISDIR(old.st_mode)) return cannotWrite(path, EISDIR);
  if (exists && !S_ISREG(old.st_mode)) {
    const int error = writeStraight(file, bytes);
    return error == 0 ? base::Result<void>{} : cannotWrite(path, error);
  }
  if (exists && ::access(file.c_str(), W_OK) != 0) return cannotWrite(path, errno);  // protected by its owner
  const fs::path folder = file.parent_path().empty() ? fs::path(".") : file.parent_path();
  {
    Aside aside(folder, exists ? 0600 : 0666);
    if (exists) aside.takeAfter(old);
    if (const int error = aside.writeAs(file, bytes); error != 0) return cannotWrite(path, error);
  }
  if (const int error = edit::flushFolder(folder); error != 0)
    return base::fail(base::ErrorCode::CannotWrite,
                      {"file_not_confirmed", {{"path", path.string()}, {"reason", edit::diskReason(error)}}});
  return {};
}

}  // namespace yw::file
