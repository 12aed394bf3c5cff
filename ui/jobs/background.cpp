#include "ui/jobs/background.h"

#include <QtDebug>
#include <exception>

namespace yw::ui {

Background::Background() { pool_.setMaxThreadCount(1); }

Background::~Background() { wait(); }

void Background::wait() {
  pool_.clear();
  pool_.waitForDone();
}

void Background::run(std::function<void()> work, std::function<void()> done) {
  pool_.start([this, work = std::move(work), done = std::move(done)] {
    try {
      work();
    } catch (const std::exception& bug) {
      qCritical("A piece of background work failed: %s", bug.what());
    }
    QMetaObject::invokeMethod(this, done, Qt::QueuedConnection);
  });
}

}  // namespace yw::ui
