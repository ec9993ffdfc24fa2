namespace LiveStems.Engine.Monitor;

/// <summary>The energy of the last 400 ms, in 40 blocks.</summary>
internal sealed class EnergyWindow
{
    /// <summary>Blocks in the window.</summary>
    public const int Blocks = 40;

    private readonly double[] blocks = new double[Blocks];
    private int next;
    private double present;

    /// <summary>Energy of all complete blocks; summed anew for each, so that no loud past leaves a trace.</summary>
    public double Energy { get; private set; }

    /// <summary>Adds to the present block.</summary>
    public void Add(double energy) => present += energy;

    /// <summary>Completes the present block and drops the oldest.</summary>
    public void CompleteBlock()
    {
        blocks[next] = present;
        next = (next + 1) % Blocks;
        present = 0;
        double sum = 0;
        foreach (double block in blocks)
        {
            sum += block;
        }

        Energy = sum;
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        Array.Clear(blocks);
        next = 0;
        present = Energy = 0;
    }
}
