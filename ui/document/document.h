#pragma once
#include <QObject>
#include <QString>
#include <filesystem>
#include <memory>
#include <optional>
#include <set>

#include "core/edit/history.h"
#include "core/edit/journal.h"
#include "core/findings/findings.h"
#include "core/propose/propose.h"

namespace yw::ui {

/// What is selected, shared by Yard, lists, forms and chart.
class Selection : public QObject {
  Q_OBJECT
 public:
  using QObject::QObject;
  const std::set<base::Id>& ids() const { return ids_; }
  base::Id single() const { return ids_.size() == 1 ? *ids_.begin() : base::Id{}; }
  base::Id pixelProp() const { return pixelProp_; }
  std::int64_t pixel() const { return pixel_; }
  void set(std::set<base::Id> ids);
  void add(base::Id id);
  void toggle(base::Id id);
  void clear() { set({}); }
  /// Also points at one pixel of one prop (0: none); selects that prop.
  void setPixel(base::Id prop, std::int64_t pixel);
  /// Asks the Yard to bring the selection into view if it is off-screen.
  void reveal();
 Q_SIGNALS:
  void changed();
  void revealAsked();

 private:
  std::set<base::Id> ids_;
  base::Id pixelProp_;
  std::int64_t pixel_ = 0;
};

/// One open yard: history, journal, file, live assessment. Everything that changes the yard goes through
/// commit(); everything that shows it listens to the signals.
class Document : public QObject {
  Q_OBJECT
 public:
  explicit Document(QObject* parent = nullptr);
  ~Document() override;

  const yard::Yard& yard() const;       ///< the committed yard
  const yard::Yard& shownYard() const;  ///< with the tentative change of a drag on top
  const edit::History& history() const { return *history_; }
  Selection& selection() { return selection_; }
  const Selection& selection() const { return selection_; }

  void commit(edit::Change change, const std::string& mergeKey = {});
  void undo();
  void redo();
  void goTo(std::size_t position);
  std::string addBlob(std::string bytes);

  /// A drag in progress: shown and assessed, not in the history. Replaces an earlier one.
  void setTentative(edit::Change change);
  void clearTentative();

  /// The newest assessment, in a drag of a place just passed; never null. `stale()`: a newer is being made.
  assess::AssessmentPtr assessment() const { return assessment_; }
  std::shared_ptr<const findings::Report> report() const { return report_; }
  bool stale() const;
  /// Computes now on this thread if stale (printing, tests).
  void settle();
  /// Also how sure each run is, which else follows in the background after a quiet moment; the report then
  /// says which run may go low.
  void settleMargins();

  QString filePath() const { return filePath_; }
  QString title() const;
  bool isSaved() const { return !recovered_ && history_->isSaved(); }
  /// Counts every change shown, tentative ones included; a result made for another number is stale.
  std::int64_t shownRevision() const;
  void newYard();
  base::Result<std::vector<base::Message>> open(const QString& path);
  /// A yard as it is shown: read, assessed, judged. read() does what takes long, and touches no document: any
  /// thread may.
  struct Ready {
    yard::Yard yard;
    std::vector<base::Message> notes;  ///< what was migrated or normalised
    assess::AssessmentPtr assessment;
    std::shared_ptr<const findings::Report> report;
  };
  static base::Result<Ready> read(const QString& path);
  static Ready ready(yard::Yard yard);
  std::vector<base::Message> open(Ready ready, const QString& path);
  base::Result<void> save(const QString& path);
  /// Takes a yard that a killed program left; unsaved until the person saves it.
  void takeRecovered(Ready ready, const QString& path);
  static std::filesystem::path journalFolder();

 Q_SIGNALS:
  void yardChanged();  ///< committed, undone, redone or tentative: shownYard() differs
  void assessed();     ///< assessment() or report() is new
  void staleChanged(bool stale);
  void historyChanged();               ///< undo/redo names, saved mark
  void fileChanged();                  ///< another yard or another path
  void said(const QString& sentence);  ///< one line for the status bar

 private:
  void replaceYard(Ready ready, const QString& path);
  void applied(const edit::Change& change);
  void tell(const base::Result<void>& result);
  void shownChanged();
  void startAssessing();
  void startWorker();
  void take(std::int64_t revision, assess::AssessmentPtr assessment,
            std::shared_ptr<const findings::Report> report);
  void dropDeadSelection();
  void startStudy();
  void tellMargins();
  struct Worker;
  std::unique_ptr<edit::History> history_;
  std::optional<edit::Journal> journal_;
  std::optional<yard::Yard> tentative_;
  Selection selection_;
  assess::AssessmentPtr assessment_;
  std::shared_ptr<const findings::Report> report_;
  std::unique_ptr<Worker> worker_;
  QString filePath_;
  bool recovered_ = false;
};

}  // namespace yw::ui
