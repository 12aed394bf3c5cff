#include "core/edit/disk.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>

#include "core/base/message.h"

namespace yw::edit {
namespace {

const char* reasonKey(int error) {
  switch (error) {
    case ENOSPC:
      return "disk_reason_full";
    case EDQUOT:
      return "disk_reason_quota";
    case EFBIG:
      return "disk_reason_too_big";
    case EACCES:
    case EPERM:
      return "disk_reason_not_allowed";
    case EROFS:
      return "disk_reason_read_only";
    case ENOENT:
      return "disk_reason_no_folder";
    case ENOTDIR:
      return "disk_reason_not_a_folder";
    case EISDIR:
      return "disk_reason_is_folder";
    case ENAMETOOLONG:
      return "disk_reason_long_name";
    case ELOOP:
      return "disk_reason_link_loop";
    case EIO:
      return "disk_reason_fault";
    default:
      return "disk_reason_other";
  }
}

}  // namespace

std::string diskReason(int error) {
  return base::text(base::Message{reasonKey(error), {{"number", std::int64_t{error}}}});
}

int writeAll(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(fd, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return errno;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  return 0;
}

int flushFolder(const std::filesystem::path& folder) {
  const int fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (fd < 0) return errno == EACCES ? 0 : errno;
  const int error = ::fsync(fd) == 0 || errno == EINVAL || errno == ENOTSUP ? 0 : errno;
  ::close(fd);
  return error;
}

}  // namespace yw::edit
