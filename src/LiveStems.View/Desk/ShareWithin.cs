namespace LiveStems.View.Desk;

/// <summary>Progress of one of several equal parts of a job.</summary>
internal sealed class ShareWithin(IProgress<double> whole, int done, int count) : IProgress<double>
{
    public void Report(double value) => whole.Report((done + value) / count);
}
