;;; session.el --- One session of eglot with the server -*- lexical-binding: t; -*-
;; Run in batch with the working folder at a copy of the notes; writes what it saw as JSON to
;; $TIPTOE_RESULT.  Everything waits for what it needs, with a ceiling that only a failure meets.

(package-initialize)
(require 'eglot)
(require 'flymake)
(require 'json)
(require 'xref)

(define-derived-mode tiptoe-mode prog-mode "Tiptoe"
  (setq-local comment-start "# "))
(add-to-list 'auto-mode-alist '("\\.tiptoe\\'" . tiptoe-mode))
(add-to-list 'eglot-server-programs
             (list 'tiptoe-mode (getenv "TIPTOE_NODE") (getenv "TIPTOE_SERVER") "--stdio"))

(defconst ceiling 30 "Seconds that only a failure takes.")
(defvar seen nil)

(defun note (key value) (push (cons key value) seen))

(defun await (what condition)
  "Wait for CONDITION, and say that WHAT was missing where it does not come."
  (let ((end (+ (float-time) ceiling)) value)
    (while (and (not (setq value (funcall condition))) (< (float-time) end))
      (accept-process-output nil 0.05))
    (or value (error "Waited in vain for %s" what))))

(defun at (text)
  (goto-char (point-min))
  (search-forward text)
  (goto-char (match-beginning 0)))

(condition-case problem
    (progn
      (find-file "note.tiptoe")
      ;; In batch nothing asks questions, and the connection is made at once.
      (let ((eglot-sync-connect ceiling) (eglot-autoshutdown t))
        (apply #'eglot (eglot--guess-contact)))
      (let ((server (await "the server" #'eglot-current-server)))
        (flymake-start)
        (await "findings" #'flymake-diagnostics)
        (note 'findings
              (apply #'vector
                     (mapcar (lambda (finding)
                               `((line . ,(line-number-at-pos (flymake-diagnostic-beg finding)))
                                 (text . ,(flymake-diagnostic-text finding))))
                             (flymake-diagnostics))))
        (at "[U1]")
        (note 'hover
              (plist-get (plist-get (jsonrpc-request server :textDocument/hover
                                                     (eglot--TextDocumentPositionParams))
                                    :contents)
                         :value))
        (at "climb*2")
        (forward-char 2)
        ;; What is offered behind "cl" of the name that stands here.
        (pcase-let ((`(,start ,_ ,table . ,_) (eglot-completion-at-point)))
          (note 'completion
                (apply #'vector
                       (mapcar #'substring-no-properties
                               (all-completions (buffer-substring start (point)) table)))))
        (at "climb*2")
        (let ((found (car (xref-backend-definitions 'eglot "climb"))))
          (note 'definition (xref-location-group (xref-item-location found))))
        (eglot-shutdown server)
        (note 'stopped t)))
  (error (note 'problem (error-message-string problem))))

(with-temp-file (getenv "TIPTOE_RESULT")
  (insert (json-encode seen)))
(let ((kill-emacs-query-functions nil)) (kill-emacs 0))
;;; session.el ends here
