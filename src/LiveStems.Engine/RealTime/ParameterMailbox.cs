using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Brings parameter values from the control thread to a processor on the audio thread. Nothing queues up: of several
/// values for a parameter the last one arrives, and it always does.
/// </summary>
internal sealed class ParameterMailbox
{
    private readonly double[] values;
    private readonly int[] isNew;
    private int anyIsNew;

    /// <summary>Starts with the values that the processor has.</summary>
    public ParameterMailbox(Processor processor)
    {
        values = new double[processor.Description.Parameters.Count];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = processor.GetParameter(i);
        }

        isNew = new int[values.Length];
    }

    /// <summary>Control thread: the value that was left last, delivered or not.</summary>
    public double Last(int parameter) => Volatile.Read(ref values[parameter]);

    /// <summary>Control thread: leaves a value.</summary>
    public void Post(int parameter, double value)
    {
        Volatile.Write(ref values[parameter], value);
        Volatile.Write(ref isNew[parameter], 1);
        Volatile.Write(ref anyIsNew, 1);
    }

    /// <summary>Audio thread: hands all new values over.</summary>
    public void Deliver(Processor processor)
    {
        if (Volatile.Read(ref anyIsNew) == 0)
        {
            return;
        }

        // Cleared before the look round: a value that comes in meanwhile raises it again.
        Interlocked.Exchange(ref anyIsNew, 0);
        for (int parameter = 0; parameter < isNew.Length; parameter++)
        {
            if (Interlocked.Exchange(ref isNew[parameter], 0) != 0)
            {
                processor.SetParameter(parameter, Volatile.Read(ref values[parameter]));
            }
        }
    }
}
