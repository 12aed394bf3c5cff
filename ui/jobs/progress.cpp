#include "ui/jobs/progress.h"

#include <QEventLoop>
#include <QProgressDialog>
#include <QThreadPool>
#include <QTimer>
#include <QtDebug>
#include <exception>

namespace yw::ui {

namespace {
constexpr int kLook = 10;        // ms between looks
constexpr int kSignAfter = 500;  // ms
}  // namespace

bool waitFor(QWidget* parent, const QString& words, const std::shared_ptr<Progress>& progress) {
  QEventLoop loop;
  QTimer look;
  look.setInterval(kLook);
  QObject::connect(&look, &QTimer::timeout, &loop, [&] {
    if (progress->ended) loop.quit();
  });
  look.start();
  QTimer::singleShot(kSignAfter, &loop, [&] { loop.quit(); });
  // The hand must not change what the work rests on before the sign stands in its way.
  if (!progress->ended) loop.exec(QEventLoop::ExcludeUserInputEvents);
  if (progress->ended) return true;
  QProgressDialog sign(words, QProgressDialog::tr("Cancel"), 0, progress->of, parent);
  sign.setObjectName(QStringLiteral("progressSign"));
  sign.setWindowTitle(words);
  sign.setWindowModality(Qt::WindowModal);
  sign.setMinimumDuration(0);
  sign.setAutoClose(false);
  sign.setAutoReset(false);
  QObject::connect(&sign, &QProgressDialog::canceled, &loop, [&] {
    progress->stop = true;
    loop.quit();
  });
  QObject::connect(&look, &QTimer::timeout, &sign, [&] {
    sign.setMaximum(progress->of);
    sign.setValue(progress->done);
  });
  sign.show();
  loop.exec();
  return !progress->stop;
}

bool runWithProgress(QWidget* parent, const QString& words, std::function<void(Progress&)> work) {
  const auto progress = std::make_shared<Progress>();
  QThreadPool::globalInstance()->start([progress, work = std::move(work)] {
    try {
      work(*progress);
    } catch (const std::exception& bug) {
      qCritical("A piece of work failed: %s", bug.what());
    }
    progress->ended = true;
  });
  return waitFor(parent, words, progress);
}

}  // namespace yw::ui
