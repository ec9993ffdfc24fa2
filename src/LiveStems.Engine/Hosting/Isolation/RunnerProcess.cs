using System.Collections.Concurrent;
using System.Diagnostics;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>One running process of an outside assembly, as this program sees it.</summary>
internal sealed class RunnerProcess : IDisposable
{
    private const int KeptLines = 40;
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(50);

    // It ends itself two seconds after its orders at the latest.
    private static readonly TimeSpan Farewell = TimeSpan.FromSeconds(4);
    private static readonly TimeSpan UsualLastWords = TimeSpan.FromSeconds(0.5);

    private readonly Process process;
    private readonly ConcurrentQueue<string> said = new();
    private readonly BlockingCollection<string> answers = [];
    private readonly Lock telling = new();
    private readonly TimeSpan lastWords;

    private RunnerProcess(Process process, TimeSpan lastWords)
    {
        this.process = process;
        this.lastWords = lastWords;
    }

    /// <summary>Number of the process.</summary>
    public int Id => process.Id;

    /// <summary>What it said when it was ready.</summary>
    public string Ready { get; private set; } = string.Empty;

    /// <summary>Starts one and waits until the assembly is loaded.</summary>
    /// <param name="facts">The assembly.</param>
    /// <param name="patience">How long it may take.</param>
    /// <param name="lastWords">How long its last words are waited for once it has ended; null for half a second.</param>
    /// <exception cref="HostingException">It cannot be started, or the assembly cannot be loaded.</exception>
    public static RunnerProcess Start(AssemblyFacts facts, TimeSpan patience, TimeSpan? lastWords = null)
    {
        RunnerProcess runner = new(new Process { StartInfo = RunnerProgram.StartInfo() }, lastWords ?? UsualLastWords);
        runner.process.OutputDataReceived += (_, line) => runner.Hear(line.Data);
        runner.process.ErrorDataReceived += (_, line) => runner.Note(line.Data);
        try
        {
            runner.process.Start();
        }
        catch (System.ComponentModel.Win32Exception fault)
        {
            runner.process.Dispose();
            throw new HostingException($"no process of its own can be started for {Path.GetFileName(facts.File)}: {fault.Message}", fault);
        }

        runner.process.BeginOutputReadLine();
        runner.process.BeginErrorReadLine();
        try
        {
            string answer = runner.Ask(ProcessorRunner.LoadOrder(facts), string.Empty, patience);
            string[] words = answer.Split('\t', 2);
            runner.Ready = words is ["ready", var descriptions] ? descriptions
                : throw new HostingException($"{Path.GetFileName(facts.File)} cannot be loaded: {words[^1]}");
            return runner;
        }
        catch
        {
            runner.Kill();
            runner.Dispose();
            throw;
        }
    }

    /// <summary>Gives an order and waits for its answer.</summary>
    /// <exception cref="HostingException">The process has ended, or does not answer in time.</exception>
    public string Ask(string order, string answerBegins, TimeSpan patience)
    {
        lock (answers)
        {
            Tell(order);
            RunningTime time = new();
            while (time.Look() < patience)
            {
                try
                {
                    if (answers.TryTake(out string? answer, BetweenLooks) && answer.StartsWith(answerBegins, StringComparison.Ordinal))
                    {
                        return answer;
                    }
                }
                catch (InvalidOperationException)
                {
                    break;
                }

                if (answers.IsCompleted)
                {
                    break;
                }
            }
        }

        throw new HostingException(answers.IsAddingCompleted ? $"its process has ended ({Cause()})" : "its process does not answer");
    }

    /// <summary>Gives an order that has no answer.</summary>
    public void Tell(string order)
    {
        try
        {
            lock (telling)
            {
                process.StandardInput.Write(order + "\n");
                process.StandardInput.Flush();
            }
        }
        catch (Exception fault) when (fault is IOException or InvalidOperationException)
        {
            // It has ended; whoever waits is told.
        }
    }

    /// <summary>Waits a while; true when it has ended.</summary>
    public bool HasEndedWithin(TimeSpan time)
    {
        try
        {
            return process.WaitForExit(time);
        }
        catch (InvalidOperationException)
        {
            // Somebody else has seen its end and put it away.
            return true;
        }
    }

    /// <summary>Ends it at once.</summary>
    public void Kill()
    {
        try
        {
            process.Kill();
            process.WaitForExit(2000);
        }
        catch (Exception fault) when (fault is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            // It has ended already.
        }
    }

    /// <summary>Why it ended, in a few words.</summary>
    public string Cause()
    {
        try
        {
            return CauseOfEnd();
        }
        catch (InvalidOperationException)
        {
            // Somebody else has seen its end and put it away.
            return "it has ended";
        }
    }

    private string CauseOfEnd()
    {
        if (!process.WaitForExit(2000))
        {
            return "it does not answer";
        }

        HearLastWords();
        string words = string.Join('\n', said);
        if (words.Contains("Stack overflow", StringComparison.OrdinalIgnoreCase))
        {
            return "stack overflow";
        }

        if (words.Contains("AccessViolation", StringComparison.Ordinal))
        {
            return "access violation";
        }

        const string Unhandled = "Unhandled exception. ";
        string? thrown = said.FirstOrDefault(line => line.StartsWith(Unhandled, StringComparison.Ordinal));
        return thrown is not null ? thrown[Unhandled.Length..] : process.ExitCode switch
        {
            128 + 9 => "killed",
            128 + 11 => "access violation",
            128 + 6 => "aborted",
            var code => $"exit code {code}",
        };
    }

    /// <summary>Lets it end by itself, as it does when its orders end, and ends it where it does not. Nobody waits for that.</summary>
    public void Dispose()
    {
        try
        {
            process.StandardInput.Close();
        }
        catch (Exception fault) when (fault is IOException or InvalidOperationException)
        {
            // It has ended.
        }

        ThreadPool.QueueUserWorkItem(ended => ended.SeeOff(), this, preferLocal: false);
    }

    private void SeeOff()
    {
        try
        {
            if (!HasEndedWithin(Farewell))
            {
                Kill();
            }
        }
        catch (InvalidOperationException)
        {
            // It has never begun.
        }

        process.Dispose();
    }

    // They come through the pipe a little later than the end; a program that it has started may hold the pipe for ever.
    private void HearLastWords()
    {
        using CancellationTokenSource late = new(lastWords);
        try
        {
            process.WaitForExitAsync(late.Token).GetAwaiter().GetResult();
        }
        catch (OperationCanceledException)
        {
            // What was heard must do.
        }
    }

    private void Hear(string? line)
    {
        if (line is null)
        {
            answers.CompleteAdding();
        }
        else if (line.Contains('\t', StringComparison.Ordinal))
        {
            answers.Add(line);
        }
    }

    private void Note(string? line)
    {
        if (line is not null && said.Count < KeptLines)
        {
            said.Enqueue(line);
        }
    }
}
