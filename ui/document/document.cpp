#include "ui/document/document.h"

#include <QElapsedTimer>
#include <QFileInfo>
#include <QStandardPaths>
#include <QTimer>
#include <atomic>

#include "core/assess/margin_study.h"
#include "core/file/yard_file.h"
#include "ui/jobs/background.h"

namespace yw::ui {

namespace {

/// Up to this time an assessment is made at once, so that figures follow the pointer.
constexpr double kAtOnceMilliseconds = 20.0;
/// So long nothing must change before how sure the runs are is worked out.
constexpr int kQuietMilliseconds = 600;

QString sentence(const base::Message& message, const yard::Yard& yard) {
  return QString::fromStdString(base::text(message, yard::settings(yard).units));
}

}  // namespace

/// Revisions of what is shown: `wanted` counts changes, `made` is the one assessment_ belongs to.
struct Document::Worker {
  Background background;
  Background study;  ///< of the margins
  std::atomic<bool> stopStudy{false};
  bool studying = false;
  std::weak_ptr<const assess::Assessment> told;  ///< whose report counts its margins
  QTimer quiet;
  std::int64_t wanted = 0, made = -1;
  bool running = false;
  double lastMilliseconds = 0.0;
};

Document::Document(QObject* parent) : QObject(parent), selection_(this), worker_(std::make_unique<Worker>()) {
  worker_->quiet.setSingleShot(true);
  worker_->quiet.setInterval(kQuietMilliseconds);
  connect(&worker_->quiet, &QTimer::timeout, this, [this] { startStudy(); });
  connect(this, &Document::assessed, &worker_->quiet, qOverload<>(&QTimer::start));
  newYard();
}

Document::~Document() {
  worker_->stopStudy = true;
  worker_->background.wait();
  worker_->study.wait();
  if (journal_) journal_->discard();
}

const yard::Yard& Document::yard() const { return history_->yard(); }
const yard::Yard& Document::shownYard() const { return tentative_ ? *tentative_ : history_->yard(); }
bool Document::stale() const { return worker_->made != worker_->wanted; }
std::int64_t Document::shownRevision() const { return worker_->wanted; }

std::filesystem::path Document::journalFolder() {
  const QString base = QStandardPaths::writableLocation(QStandardPaths::AppLocalDataLocation);
  return std::filesystem::path(base.toStdString()) / "journal";
}

void Document::tell(const base::Result<void>& result) {
  if (!result) Q_EMIT said(QString::fromStdString(base::text(result.error(), yard::settings(yard()).units)));
}

void Document::applied(const edit::Change& change) {
  if (journal_) tell(journal_->append(change));
}

void Document::commit(edit::Change change, const std::string& mergeKey) {
  const bool hadTentative = tentative_.has_value();
  tentative_.reset();
  if (change.empty() && !hadTentative) return;
  history_->commit(std::move(change), mergeKey);
  shownChanged();
  Q_EMIT historyChanged();
}

void Document::undo() {
  tentative_.reset();
  if (!history_->canUndo()) return;
  const QString name = QString::fromStdString(history_->undoName());
  history_->undo();
  shownChanged();
  Q_EMIT historyChanged();
  Q_EMIT said(tr("Undone: %1").arg(name));
}

void Document::redo() {
  tentative_.reset();
  if (!history_->canRedo()) return;
  const QString name = QString::fromStdString(history_->redoName());
  history_->redo();
  shownChanged();
  Q_EMIT historyChanged();
  Q_EMIT said(tr("Redone: %1").arg(name));
}

void Document::goTo(std::size_t position) {
  tentative_.reset();
  if (position == history_->position() || position > history_->steps().size()) return;
  history_->goTo(position);
  shownChanged();
  Q_EMIT historyChanged();
}

std::string Document::addBlob(std::string bytes) {
  const std::string copy = bytes;
  const std::string key = history_->addBlob(std::move(bytes));
  if (journal_) tell(journal_->appendBlob(key, copy));
  return key;
}

void Document::setTentative(edit::Change change) {
  tentative_ = edit::apply(history_->yard(), change);
  shownChanged();
}

void Document::clearTentative() {
  if (!tentative_) return;
  tentative_.reset();
  shownChanged();
}

void Document::dropDeadSelection() {
  const auto& records = shownYard().records;
  std::set<base::Id> alive;
  for (const base::Id id : selection_.ids())
    if (records.contains(id)) alive.insert(id);
  if (alive.size() != selection_.ids().size()) selection_.set(std::move(alive));
}

void Document::shownChanged() {
  worker_->stopStudy = true;  // what it works at is no longer shown
  dropDeadSelection();
  startAssessing();
  Q_EMIT yardChanged();
  if (!stale()) Q_EMIT assessed();
}

void Document::startAssessing() {
  const bool wasStale = stale();
  ++worker_->wanted;
  if (!worker_->running && worker_->lastMilliseconds < kAtOnceMilliseconds) {
    QElapsedTimer clock;
    clock.start();
    assessment_ = assess::assess(shownYard(), assessment_);
    report_ = std::make_shared<const findings::Report>(findings::report(*assessment_));
    worker_->made = worker_->wanted;
    worker_->lastMilliseconds = static_cast<double>(clock.nsecsElapsed()) * 1e-6;
  } else {
    startWorker();
  }
  if (stale() != wasStale) Q_EMIT staleChanged(stale());
}

void Document::startWorker() {
  if (worker_->running) return;  // its end starts the next, with whatever is shown by then
  worker_->running = true;
  struct Job {
    yard::Yard yard;
    assess::AssessmentPtr old, made;
    std::shared_ptr<const findings::Report> report;
    std::int64_t revision;
    double milliseconds = 0.0;
  };
  auto job = std::make_shared<Job>(Job{shownYard(), assessment_, {}, {}, worker_->wanted});
  worker_->background.run(
      [job] {
        QElapsedTimer clock;
        clock.start();
        job->made = assess::assess(job->yard, job->old);
        job->report = std::make_shared<const findings::Report>(findings::report(*job->made));
        job->milliseconds = static_cast<double>(clock.nsecsElapsed()) * 1e-6;
      },
      [this, job] {
        worker_->running = false;
        worker_->lastMilliseconds = job->milliseconds;
        take(job->revision, job->made, job->report);
      });
}

void Document::take(std::int64_t revision, assess::AssessmentPtr assessment,
                    std::shared_ptr<const findings::Report> report) {
  if (!stale()) return;  // settled meanwhile
  if (!assessment || !report) {
    Q_EMIT said(tr("The figures could not be computed; undo the last step and report this."));
    return;
  }
  if (revision != worker_->wanted) {
    if (tentative_ &&
        revision > worker_->made) {  // the hand goes on: what is nearly so is better than nothing
      assessment_ = std::move(assessment);
      report_ = std::move(report);
      worker_->made = revision;
      Q_EMIT assessed();
    }
    startWorker();
    return;
  }
  assessment_ = std::move(assessment);
  report_ = std::move(report);
  worker_->made = revision;
  Q_EMIT staleChanged(false);
  Q_EMIT assessed();
}

void Document::settle() {
  if (!stale()) return;
  auto made = assess::assess(shownYard(), assessment_);
  auto report = std::make_shared<const findings::Report>(findings::report(*made));
  take(worker_->wanted, std::move(made), std::move(report));
}

void Document::startStudy() {
  if (stale() || tentative_ || worker_->studying) return;
  if (assess::marginsIfKnown(*assessment_) != nullptr) {
    if (worker_->told.lock() != assessment_) tellMargins();  // known by another way than this
    return;
  }
  worker_->studying = true;
  worker_->stopStudy = false;
  worker_->study.run([this, studied = assessment_] { assess::studyMargins(*studied, worker_->stopStudy); },
                     [this] {
                       worker_->studying = false;
                       if (stale() || tentative_) return;
                       if (assess::marginsIfKnown(*assessment_) != nullptr) return tellMargins();
                       worker_->quiet.start();  // another yard meanwhile
                     });
}

void Document::tellMargins() {
  worker_->told = assessment_;
  report_ = std::make_shared<const findings::Report>(findings::report(*assessment_));
  Q_EMIT assessed();
}

void Document::settleMargins() {
  settle();
  if (assess::marginsIfKnown(*assessment_) != nullptr) return;
  assess::margins(*assessment_);
  tellMargins();
}

QString Document::title() const {
  const std::string& name = yard::site(yard()).name;
  if (!name.empty()) return QString::fromStdString(name);
  if (!filePath_.isEmpty()) return QFileInfo(filePath_).completeBaseName();
  return tr("New yard");
}

Document::Ready Document::ready(yard::Yard yard) {
  Ready made{std::move(yard), {}, {}, {}};
  made.assessment = assess::assess(made.yard);
  made.report = std::make_shared<const findings::Report>(findings::report(*made.assessment));
  return made;
}

base::Result<Document::Ready> Document::read(const QString& path) {
  auto opened = file::open(std::filesystem::path(path.toStdString()));
  if (!opened) return tl::unexpected(opened.error());
  Ready made = ready(std::move(opened->yard));
  made.notes = std::move(opened->notes);
  return made;
}

void Document::replaceYard(Ready ready, const QString& path) {
  if (journal_) journal_->discard();
  journal_.reset();
  auto journal = edit::Journal::start(journalFolder(), path.toStdString(), ready.yard);
  selection_.clear();
  tentative_.reset();
  recovered_ = false;
  filePath_ = path;
  history_ = std::make_unique<edit::History>(std::move(ready.yard));
  history_->markSaved();
  history_->listen([this](const edit::Change& change) { applied(change); });
  if (journal) {
    journal_.emplace(std::move(*journal));
  } else {
    tell(tl::unexpected(journal.error()));
  }
  // Another yard's figures must never be read as this one's: made before anything is shown.
  worker_->lastMilliseconds = 0.0;
  ++worker_->wanted;
  take(worker_->wanted, std::move(ready.assessment), std::move(ready.report));
  Q_EMIT fileChanged();
  Q_EMIT yardChanged();
  Q_EMIT historyChanged();
}

void Document::newYard() { replaceYard(ready(yard::emptyYard()), {}); }

base::Result<std::vector<base::Message>> Document::open(const QString& path) {
  auto made = read(path);
  if (!made) return tl::unexpected(made.error());
  return open(std::move(*made), path);
}

std::vector<base::Message> Document::open(Ready ready, const QString& path) {
  const std::vector<base::Message> notes = ready.notes;
  replaceYard(std::move(ready), path);
  for (const base::Message& note : notes) Q_EMIT said(sentence(note, yard()));
  return notes;
}

base::Result<void> Document::save(const QString& path) {
  const std::filesystem::path target(path.toStdString());
  // A yard without a name takes that of its first file: sheets are headed by it.
  edit::Editor named(yard());
  if (filePath_.isEmpty() && yard::site(yard()).name.empty())
    named.update<yard::Site>(yard::siteId(yard()),
                             [&](yard::Site& site) { site.name = target.stem().string(); });
  edit::Change name = named.finish(tr("Name the yard after its file").toStdString());
  if (auto saved = file::save(edit::apply(yard(), name), target); !saved) return saved;
  if (!name.empty()) commit(std::move(name));
  history_->markSaved();
  recovered_ = false;
  if (journal_) tell(journal_->reset(target, yard()));
  filePath_ = path;
  Q_EMIT fileChanged();
  Q_EMIT historyChanged();
  Q_EMIT said(tr("Saved %1").arg(QFileInfo(path).fileName()));
  return {};
}

void Document::takeRecovered(Ready ready, const QString& path) {
  replaceYard(std::move(ready), path);
  recovered_ = true;
  // An empty step keeps this journal on offer: a second crash must not lose what the first one left.
  if (journal_) {
    edit::Change kept;
    kept.name = tr("Brought back").toStdString();
    kept.nextIdBefore = kept.nextIdAfter = this->yard().nextId;
    tell(journal_->append(kept));
  }
  Q_EMIT historyChanged();
}

}  // namespace yw::ui
